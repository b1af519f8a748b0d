package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// written is the starter plan and one of its programs.
func written(t *testing.T, family string) (plan, name string) {
	t.Helper()
	plan = starter(t)
	if r := gridferry("", "write", plan, "--family", family); r.status != 0 {
		t.Fatal(r.err)
	}
	return plan, program(t)
}

func TestVerify(t *testing.T) {
	plan, name := written(t, "iso6983")
	text := read(t, name)
	for _, c := range []struct {
		what, program string
		status        int
		want          []string
	}{
		{"untouched", text, 0, []string{"<stdin>: untouched since Gridferry", "the same: all "}},
		{"other line ends", strings.ReplaceAll(text, "\n", "\r\n"), 1,
			[]string{"changed by hand", "line 1 ends in CR LF and not in LF: ", "different: all ", "but not all lines end as the family's do"}},
		{"one line end that is CR", strings.Replace(text, "(", "(\r", 1), 1, []string{"changed by hand", " ends in CR and not in LF"}},
		{"a form feed", strings.Replace(text, "(", "(\f", 1), 1, []string{"changed by hand", ` holds the character "\f"`}},
		{"no end", strings.TrimSuffix(text, "\n"), 1, []string{"changed by hand", " ends in nothing and not in LF"}},
		{"a move in the seal", strings.Replace(text, "0.1.0)\n(seal 2", "0.1.0)G0X400Y0Z25(x)\n(seal 2", 1), 1,
			[]string{"no seal: ", "program: G0X400Y0Z25", "1 other line"}},
		{"a remark", strings.Replace(text, "M2", "M2 (done)", 1), 0, []string{"changed by hand", "the same"}},
		{"a digit", strings.Replace(text, "X330.000", "X331.000", 1), 1,
			[]string{"changed by hand", "move 2 (straight to clear, plan line ", "x is 331.0000 mm instead of 330.0000 mm (+1.0000)", "1 changed"}},
		{"a clamp", strings.Replace(text, " M10\n", " M11\n", 1), 1, []string{"1 missing", "1 extra"}},
		{"a mode", strings.Replace(text, "G90", "G91", 1), 1, []string{"program: G91", "plan:    G90", "1 other line"}},
		{"no seal", dropSeal(text), 0, []string{"no seal: ", "the same"}},
	} {
		r := gridferry(c.program, "verify", "-", "--plan", plan, "--family", "iso6983")
		if r.status != c.status {
			t.Errorf("%s: status %d, wanted %d: %s%s", c.what, r.status, c.status, r.out, r.err)
		}
		for _, want := range c.want {
			if !strings.Contains(r.out, want) {
				t.Errorf("%s: no %q in\n%s", c.what, want, r.out)
			}
		}
	}
}

func dropSeal(text string) string {
	var lines []string
	for _, line := range strings.SplitAfter(text, "\n") {
		if !strings.HasPrefix(line, "(seal ") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "")
}

func TestVerifyKnowsSettings(t *testing.T) {
	plan, name := written(t, "starter")
	if r := gridferry("", "verify", name, "--plan", plan, "--family", "starter", "--set", "motion.speed.near=45"); r.status != 1 ||
		!strings.Contains(r.out, "speed is 50.0000 mm/s instead of 45.0000 mm/s (+5.0000)") || !strings.Contains(r.out, "a setting has changed") {
		t.Errorf("%+v", r)
	}
}

func TestVerifyAsJSON(t *testing.T) {
	plan, name := written(t, "st")
	changed := strings.Replace(read(t, name), "330.000", "331.000", 1)
	r := gridferry(changed, "verify", "-", "--plan", plan, "--family", "st", "--format", "json")
	var got struct {
		Same    bool
		Changed int
		Files   []struct {
			File, Seal string
			PlanSame   bool `json:"plan_same"`
		}
		Differences []struct {
			What   string
			Move   int
			Fields []struct {
				Field, Unit   string
				Plan, Program float64
			}
		}
	}
	if err := json.Unmarshal([]byte(r.out), &got); err != nil || r.status != 1 {
		t.Fatalf("%v, %+v", err, r)
	}
	if got.Same || got.Changed != 1 || len(got.Differences) != 1 || got.Files[0].Seal != "changed" || !got.Files[0].PlanSame {
		t.Fatalf("%+v", got)
	}
	if d := got.Differences[0]; d.What != "changed" || d.Move == 0 || len(d.Fields) != 1 || d.Fields[0].Field != "x" || d.Fields[0].Program-d.Fields[0].Plan != 1 {
		t.Errorf("%+v", d)
	}
}

func TestVerifyWithoutReads(t *testing.T) {
	plan, name := written(t, "loops")
	text := read(t, name)
	if r := gridferry(text, "verify", "-", "--plan", plan, "--family", "loops"); r.status != 0 || !strings.Contains(r.out, "the same: all") {
		t.Errorf("%+v", r)
	}
	if r := gridferry(strings.Replace(text, "330", "331", 1), "verify", "-", "--plan", plan, "--family", "loops"); r.status != 1 {
		t.Errorf("%+v", r)
	}
}

func TestVerifyMisuse(t *testing.T) {
	plan, name := written(t, "starter")
	if r := gridferry("", "families", "copy", "starter", "mine"); r.status != 0 {
		t.Fatal(r.err)
	}
	rules := read(t, "mine/family.yaml")
	if err := os.WriteFile("mine/family.yaml", []byte(rules[:strings.Index(rules, "reads:")]), 0o666); err != nil {
		t.Fatal(err)
	}
	for want, args := range map[string][]string{
		"no such file":             {"verify", "nothing.nc", "--plan", plan, "--family", "starter"},
		"is not a regular file":    {"verify", ".", "--plan", plan, "--family", "starter"},
		"needs --plan":             {"verify", name, "--family", "starter"},
		"wants 1 argument or more": {"verify", "--plan", plan, "--family", "starter"},
		"wanted one of text, json": {"verify", name, "--plan", plan, "--family", "starter", "--format", "xml"},
	} {
		if r := gridferry("", args...); r.status != 2 || !strings.Contains(r.err, want) {
			t.Errorf("%v: wanted status 2 and %q, got %+v", args, want, r)
		}
	}
	if r := gridferry("", "verify", name, "--plan", plan, "--family", "starter", "--set", "transfers.1.from=nowhere"); r.status != 1 || r.out != "" {
		t.Errorf("a plan that does not resolve: %+v", r)
	}
	if r := gridferry(strings.Replace(read(t, name), "x=330.000", "x=331.000", 1), "verify", "-", "--plan", plan, "--family", "./mine"); r.status != 1 ||
		!strings.Contains(r.out, "compared as text") || !strings.Contains(r.out, "; 1 line\n") {
		t.Errorf("a family without \"reads\": %+v", r)
	}
	if r := gridferry("", "write", plan, "--family", "./mine", "-o", "-"); r.status != 0 || !strings.Contains(r.err, "warning: the family does not say how its lines read") {
		t.Errorf("writing without reading back: %+v", r)
	}
}

// TestAnotherFamilysProgram is one error, of verify as of compare.
func TestAnotherFamilysProgram(t *testing.T) {
	plan, name := written(t, "st")
	put(t, "empty", "")
	for _, c := range [][]string{{name, "listing"}, {name, "starter"}, {name, "iso6983"}, {"empty", "st"}} {
		want := "gridferry: " + c[0] + ": nothing in it reads as a program of the family \"" + c[1] + "\": name its family with --family"
		for _, args := range [][]string{{"verify", c[0], "--plan", plan}, {"compare", c[0], plan}, {"verify", c[0], "--plan", plan, "--format", "json"}} {
			r := gridferry("", append(args, "--family", c[1])...)
			if r.status != 1 || r.out != "" || !strings.HasPrefix(r.err, want) || strings.Count(r.err, "\n") != 1 {
				t.Errorf("%v: %+v", args, r)
			}
		}
	}
}

// TestTheHeadShowsTheRun: a program of another run is known by what its head says, with
// the flags for it; with these it is as it was written.
func TestTheHeadShowsTheRun(t *testing.T) {
	plan := starter(t)
	families := []string{"iso6983", "listing", "st", "starter"}
	if testing.Short() {
		families = families[:1]
	}
	for _, c := range []struct{ flags, words string }{
		{"--from 3", "a job resumed at transfer 3"},
		{"--from 4 --holding", "a job resumed at transfer 4, with its part in the gripper"},
		{"--prove-out", "a prove-out"},
		{"--prove-out --speed 62.5 --lift 0", "a prove-out"},
		{"--prove-out --lift 12.5 --gripper work --steps work", "a prove-out"},
		{"--from 3 --holding --prove-out --speed 100 --lift 0 --gripper work", "a prove-out of a job resumed at transfer 3, with its part in the gripper"},
	} {
		flags := strings.Fields(c.flags)
		for _, family := range families {
			wrote := gridferry("", append([]string{"write", plan, "--family", family, "-o", "-", "--quiet"}, flags...)...)
			if wrote.status != 0 {
				t.Fatalf("%+v", wrote)
			}
			checked := func(want int, args ...string) result {
				text := wrote.out
				if want == 1 { // a head is read whatever its lines end in
					text = strings.ReplaceAll(text, "\n", "\r\n")
				}
				r := gridferry(text, append(args, "--family", family, "--quiet")...)
				if r.status != want {
					t.Errorf("%v of %s: %+v", args, c.flags, r)
				}
				return r
			}
			want := "gridferry: <stdin>: its head says that it is " + c.words + ": use " + c.flags
			for _, more := range [][]string{nil, {"--from", "2"}, {"--prove-out", "--speed", "99"}} {
				for _, args := range [][]string{{"verify", "-", "--plan", plan}, {"compare", "-", plan}, {"compare", plan, "-"}} {
					r := checked(1, append(args, more...)...)
					next := ", and also --"
					if more != nil {
						next = " instead of " + strings.Join(more, " ") + ", and also --"
					}
					if r.out != "" || !strings.HasPrefix(r.err, want+next) || strings.Count(r.err, "\n") != 1 {
						t.Errorf("%v: %+v, wanted %s", args, r, want)
					}
				}
			}
			checked(0, append([]string{"verify", "-", "--plan", plan}, flags...)...)
			checked(0, append([]string{"compare", "-", plan}, flags...)...)
		}
	}
}

// TestCompareSaysThatRunsDiffer: two programs are compared all the same.
func TestCompareSaysThatRunsDiffer(t *testing.T) {
	plan := starter(t)
	for _, flags := range [][]string{nil, {"--from", "3"}} {
		if r := gridferry("", append([]string{"write", plan, "--family", "iso6983"}, flags...)...); r.status != 0 {
			t.Fatal(r.err)
		}
	}
	r := gridferry("", "compare", "first.nc", "first-from-3.nc", "--family", "iso6983")
	if r.status != 1 || r.err != "first-from-3.nc: its head says that it is a job resumed at transfer 3, unlike the other program\n" ||
		!strings.Contains(r.out, "only in the first: 2 transfers") {
		t.Errorf("%+v", r)
	}
	if r := gridferry("", "compare", "first-from-3.nc", "first-from-3.nc", "--family", "iso6983"); r.status != 0 || r.err != "" {
		t.Errorf("%+v", r)
	}
}

// TestEndlessLine: a file that is no text, such as a picture of a disk, is named, with the
// line at which reading stops. A hole in a file takes no room on the disk.
func TestEndlessLine(t *testing.T) {
	t.Chdir(t.TempDir())
	if r := gridferry("", "new"); r.status != 0 {
		t.Fatal(r.err)
	}
	if err := os.WriteFile("first.prog", []byte("begin\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate("first.prog", 65<<20); err != nil {
		t.Fatal(err)
	}
	const want = "gridferry: first.prog: line 2 is longer than 64 MiB, so that this is no program\n"
	for _, args := range [][]string{
		{"verify", "first.prog", "--plan", "first.plan.yaml", "--family", "starter"},
		{"write", "first.plan.yaml", "--family", "starter"},
		{"compare", "first.prog", "first.prog", "--family", "starter"},
	} {
		if r := gridferry("", args...); r.status == 0 || !strings.Contains(r.err, want) {
			t.Errorf("%v: status %d and %q, wanted %q", args, r.status, r.err, want)
		}
	}
}

// TestOnlySoundPlansAreCompared: what says whether a program is that of a plan, and who ends where, first holds the
// plan to the rules of "check".
func TestOnlySoundPlansAreCompared(t *testing.T) {
	plan := starter(t)
	const empty = "grids.tray.filled=[A1]"
	if r := gridferry("", "moves", plan, "--set", empty, "--set", "transfers.1.from=tray A1:A2"); r.status != 0 {
		t.Fatalf("the plan should read, so that only the check refuses it:\n%s", r.err)
	}
	if r := gridferry("", "write", plan, "--family", "st", "-o", "."); r.status != 0 {
		t.Fatal(r.err)
	}
	for _, args := range [][]string{
		{"verify", "first.st", "--plan", plan, "--family", "st"},
		{"compare", plan, plan},
		{"compare", plan, "first.st", "--family", "st"},
		{"compare", "first.st", plan, "--family", "st"},
		{"manifest", plan},
		{"manifest", plan, "--family", "st"},
	} {
		r := gridferry("", append(args, "--set", empty, "--set", "transfers.1.from=tray A1:A2")...)
		if r.status != 1 || r.out != "" || strings.Count(r.err, "[pick-from-empty]") != 1 {
			t.Errorf("%v: status %d\n%s%s", args, r.status, r.out, r.err)
		}
		if r := gridferry("", args...); r.status != 0 || strings.Contains(r.err, "warning") {
			t.Errorf("%v of a sound plan: status %d\n%s%s", args, r.status, r.out, r.err)
		}
	}
}
