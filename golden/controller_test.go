package golden

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// demoCopy is the demo in a folder of its own, where its cell can be changed.
func demoCopy(t *testing.T) {
	t.Helper()
	folder, from := t.TempDir(), absolute(t, demoFolder)
	if err := os.CopyFS(folder, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
}

// TestFramesAtTheController: a program of a family that does not write its frames stays
// the same when one is touched anew, and then write, verify, compare and the sheet say
// which has to be entered at the controller, under its number and with its figures.
func TestFramesAtTheController(t *testing.T) {
	demoCopy(t)
	const plan = "mortar-cubes.plan.yaml"
	change(t, "bench.cell.yaml", []edit{{"  pan: ", "  pan:\n    number: 17\n#"}})
	write := func(folder string) (said string) {
		r := run("write", plan, "--family", "starter,st,listing", "-o", folder)
		if r.status != 0 {
			t.Fatal(r.stderr)
		}
		return r.stderr
	}
	bath := func(x string) string { return "frame 2 (bath): X " + x + " Y -460.000 Z 42.000 mm, roll 0.000" }
	said := write("before")
	for _, want := range []string{bath("260.000"), "frame 17 (pan): X 520.000 Y -50.000 Z 96.000 mm", "tool 1 (jaw): X 0.000 Y 0.000 Z 132.000 mm"} {
		if !strings.Contains(said, "to enter at the controller (starter): "+want) {
			t.Errorf("write does not say %q:\n%s", want, said)
		}
	}
	if strings.Contains(said, "(st)") || strings.Contains(said, "(listing)") {
		t.Errorf("what writes its frames needs no entering:\n%s", said)
	}
	verify := []string{"verify", "before/mortar-cubes.prog", "--plan", plan, "--family", "starter"}
	compare := []string{"compare", "before/mortar-cubes.prog", plan, "--family", "starter"}
	for _, command := range [][]string{verify, compare} {
		if r := run(command...); r.status != 0 || !strings.Contains(r.stdout+r.stderr, bath("260.000")+" ") || strings.Contains(r.stdout, "not as it was") {
			t.Errorf("%s: status %d\n%s", command[0], r.status, r.stdout)
		}
	}

	change(t, "bench.cell.yaml", []edit{{"origin: [260, -460, 42]", "origin: [263, -460, 42]"}})
	write("after")
	if a, b := unsealed(t, "before/mortar-cubes.prog"), unsealed(t, "after/mortar-cubes.prog"); a != b {
		t.Fatal("the programs differ without their seals: the family writes its frames")
	}
	for command, want := range map[*[]string]string{&verify: "not as it was when this program was written", &compare: "not the same for both"} {
		r := run(*command...)
		at := "at the controller: " + bath("263.000")
		if r.status != 1 || !strings.Contains(r.stdout, at) || strings.Count(r.stdout, want) != 1 {
			t.Errorf("%s: status %d\n%s", (*command)[0], r.status, r.stdout)
		}
	}
	var verdict struct {
		Same       bool
		Controller []struct {
			Number  int
			Name    string
			Changed bool
		}
	}
	if err := json.Unmarshal([]byte(run(append(verify, "--format", "json")...).stdout), &verdict); err != nil {
		t.Fatal(err)
	}
	for _, e := range verdict.Controller {
		if e.Changed != (e.Name == "bath") || e.Name == "pan" && e.Number != 17 {
			t.Errorf("as data: %+v", e)
		}
	}
	if verdict.Same || len(verdict.Controller) != 4 {
		t.Errorf("as data: %+v", verdict)
	}
	two := run("compare", "before/mortar-cubes.prog", "after/mortar-cubes.prog", "--family", "starter", "--plan", plan)
	if two.status != 1 || !strings.Contains(two.stdout, "at the controller: frame 2: not the same for both") {
		t.Errorf("two programs: status %d\n%s", two.status, two.stdout)
	}
	mustRun(t, "sheet", plan, "--family", "starter", "-o", "sheet.html")
	if page, err := os.ReadFile("sheet.html"); err != nil || !strings.Contains(string(page), "<li>"+bath("263.000")) {
		t.Errorf("the sheet does not say what to enter (%v)", err)
	}
}

// unsealed is a program without its seal.
func unsealed(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.FromSlash(file))
	if err != nil {
		t.Fatal(err)
	}
	var kept strings.Builder
	for line := range strings.Lines(string(data)) {
		if !strings.HasPrefix(line, "# seal ") {
			kept.WriteString(line)
		}
	}
	return kept.String()
}

// TestNumbersOfTheController: a family that writes numbers writes those of the cell, and
// they are read back as such.
func TestNumbersOfTheController(t *testing.T) {
	demoCopy(t)
	change(t, "bench.cell.yaml", []edit{{"  bath: ", "  bath:\n    number: 9\n#"}, {"  jaw:\n", "  jaw:\n    number: 5\n"}})
	mustRun(t, "families", "copy", "starter", "mine")
	change(t, "mine/family.yaml", []edit{{"frame={frame} tool={tool}", "frame={frame_number} tool={tool_number}"}})
	change(t, "mine/program.tmpl", []edit{{"frame={{.Frame}} tool={{.Tool}}", "frame={{.FrameNumber}} tool={{.ToolNumber}}"}})
	text := mustRun(t, "write", "mortar-cubes.plan.yaml", "--family", "./mine", "-o", "-")
	if !strings.Contains(text, "\nselect frame=9 tool=5 ") || !strings.Contains(text, "\nselect frame=3 tool=5 ") {
		t.Errorf("the program has other numbers than the cell:\n%.2000s", text)
	}
	change(t, "mine/program.tmpl", []edit{{"frame={{.FrameNumber}}", "frame={{.FramePlace}}"}})
	if r := run("write", "mortar-cubes.plan.yaml", "--family", "./mine", "-o", "-"); r.status != 1 || !strings.Contains(r.stderr, "read-back-differs") {
		t.Errorf("places read as numbers: status %d\n%s", r.status, r.stderr)
	}
	st := mustRun(t, "write", "mortar-cubes.plan.yaml", "--family", "st", "-o", "-")
	if !strings.Contains(st, "ToolNumbers : ARRAY [0..1] OF DINT := [0, 5];") {
		t.Error("Structured Text does not give the controller the tool's number")
	}
}
