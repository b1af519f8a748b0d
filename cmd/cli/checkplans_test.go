package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// plans is a folder with a sound plan, one with an error in it, one with an error in the cell that
// two have in common, and one that cannot be read.
func plans(t *testing.T) {
	t.Helper()
	good := starter(t)
	text := read(t, good)
	put(t, "b/wrong.plan.yaml", strings.Replace(text, "from: tray ", "from: tary ", 1))
	put(t, "b/bench.cell.yaml", read(t, "bench.cell.yaml"))
	put(t, "spoilt.cell.yaml", strings.Replace(read(t, "bench.cell.yaml"), "machine:", "machin:", 1))
	for _, name := range []string{"c.plan.yaml", "d.plan.yaml"} {
		put(t, name, strings.Replace(text, "bench.cell", "spoilt.cell", 1))
	}
	put(t, "e.plan.yaml", "format: [\n")
	put(t, ".hidden/f.plan.yaml", "format: [\n")
}

func TestCheckFolder(t *testing.T) {
	plans(t)
	r := gridferry("", "check", "./...")
	if r.status != 1 {
		t.Fatalf("%+v", r)
	}
	const table = `plan               errors  warnings  transfers  moves
b/wrong.plan.yaml  1       0         -          -
c.plan.yaml        1       0         -          -
d.plan.yaml        1       0         -          -
e.plan.yaml        1       0         -          -
first.plan.yaml    0       0         6          112
`
	if r.out != table {
		t.Errorf("got\n%s\nwanted\n%s", r.out, table)
	}
	if n := strings.Count(r.err, `a cell has no key "machin"`); n != 1 {
		t.Errorf("what two plans have in common is said %d times:\n%s", n, r.err)
	}
	if !strings.HasSuffix(r.err, "5 plans: 4 with errors\n") || !strings.Contains(r.err, "not looked at: ") {
		t.Errorf("got %s", r.err)
	}
	for range 5 {
		if again := gridferry("", "check", "."); again != r {
			t.Fatalf("another time it is another result:\n%+v\n%+v", r, again)
		}
	}
	for _, args := range [][]string{{"first.plan.yaml", "first.plan.yaml"}, {"first.plan.yaml", "./first.plan.yaml"}} {
		if r := gridferry("", append([]string{"check"}, args...)...); r.status != 0 || !strings.HasSuffix(r.err, "1 plan: no error\n") {
			t.Errorf("%v: %+v", args, r)
		}
	}
}

func TestCheckFolderAsData(t *testing.T) {
	plans(t)
	r := gridferry("", "check", ".", "--format", "json")
	var found []struct{ File, Rule, Help string }
	if err := json.Unmarshal([]byte(r.out), &found); err != nil || r.status != 1 || len(found) != 3 {
		t.Fatalf("%v: %+v", err, r)
	}
	for i, file := range []string{"b/wrong.plan.yaml", "e.plan.yaml", "spoilt.cell.yaml"} {
		if found[i].File != file || found[i].Help != "gridferry help rule "+found[i].Rule {
			t.Errorf("%d is %+v, wanted one in %s", i, found[i], file)
		}
	}
	if r := gridferry("", "check", ".", "--format", "github"); r.status != 1 || strings.Count(r.out, "\n") != 3 || !strings.HasPrefix(r.out, "::error title=unknown-name,file=b/wrong.plan.yaml,line=") {
		t.Errorf("%+v", r)
	}
	if r := gridferry("", "check", "first.plan.yaml", "--format", "github"); r.status != 0 || r.out != "" {
		t.Errorf("%+v", r)
	}
	if r := gridferry(read(t, "e.plan.yaml"), "check", "-", "--format", "sarif"); r.status != 1 || !strings.Contains(r.out, `"fullyQualifiedName": "<stdin>:1:9"`) {
		t.Errorf("%+v", r)
	}
}

func TestCheckFolderUsedWrongly(t *testing.T) {
	plans(t)
	for want, args := range map[string][]string{
		`--slots is about one PLAN`:              {".", "--slots"},
		`--from is about one PLAN`:               {".", "--from", "2"},
		`"-", standard input, is one PLAN`:       {"-", "first.plan.yaml"},
		`there is no plan in ".hidden/none"`:     {".hidden/none"},
		`none.plan.yaml`:                         {"none.plan.yaml", "first.plan.yaml"},
		`write --slots=FILE with an equals sign`: {"--slots", "first.plan.yaml", "slots.yaml"},
		`--limit is 0`:                           {".", "--limit", "0"},
		`--slots is drawn as text or json`:       {"first.plan.yaml", "--slots", "--format", "sarif"},
		`--rules are printed as text or json`:    {"--rules", "--format", "sarif"},
		`--set "x" has no "="`:                   {".", "--set", "x"},
	} {
		put(t, ".hidden/none/x.cell.yaml", "")
		if r := gridferry("", append([]string{"check"}, args...)...); r.status != 2 || r.out != "" || !strings.Contains(r.err, want) {
			t.Errorf("%v: %+v, wanted %q", args, r, want)
		}
	}
}

// TestCheckFolderUnreadable: what cannot be opened is not passed over.
func TestCheckFolderUnreadable(t *testing.T) {
	starter(t)
	if err := os.Symlink("nowhere", "c.plan.yaml"); err != nil {
		outside.Missing(t, err)
	}
	if r := gridferry("", "check", "."); r.status != 1 || !strings.Contains(r.err, "gridferry: open c.plan.yaml: ") || !strings.Contains(r.out, "first.plan.yaml") {
		t.Errorf("%+v", r)
	}
}

func TestHelpOnRules(t *testing.T) {
	r := gridferry("", "help", "rule", "out-of-reach")
	for _, want := range []string{"out-of-reach (error)\n", "what to do:", "found in:", "not found in:"} {
		if r.status != 0 || !strings.Contains(r.out, want) {
			t.Errorf("no %q in %+v", want, r)
		}
	}
	const byCommand = "  found in: the plan as it is (gridferry check example.plan.yaml --set grids.tray.rowz=3)\n"
	if r := gridferry("", "help", "rule", "set-path"); !strings.Contains(r.out, byCommand) || strings.Contains(r.out, "not found in:") {
		t.Errorf("a rule that the command breaks: %+v", r)
	}
	all := gridferry("", "help", "rule").out
	offered := gridferry("", "__complete", "help", "rule", "").out
	if n := strings.Count(all, "\n"); n < 60 || n != strings.Count(offered, "\t") || !strings.Contains(offered, "out-of-reach\tThe TCP ends a move outside") {
		t.Errorf("%d rules are listed, and offered:\n%s", n, offered)
	}
	if r := gridferry("", "help", "rule", "out-of-reac"); r.status != 2 || !strings.Contains(r.err, `did you mean "out-of-reach"?`) {
		t.Errorf("%+v", r)
	}
	if r := gridferry("", "help", "rule", "xyz"); r.status != 2 || !strings.Contains(r.err, `"gridferry help rule" lists the rules`) {
		t.Errorf("%+v", r)
	}
	if r := gridferry("", "help", "check"); r.status != 0 || !strings.HasPrefix(r.out, "Check reads a plan") {
		t.Errorf("%+v", r)
	}
}
