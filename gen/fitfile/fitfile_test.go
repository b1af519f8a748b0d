package fitfile_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/fitfile"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

const folder = "../../testdata/measured/"

// solve works on a text; the name says what it is.
func solve(t *testing.T, q fitfile.Request, name, text string) (*fitfile.Answer, []diag.Finding) {
	t.Helper()
	var list diag.List
	var sources diag.Sources
	a := fitfile.Solve(plan.Source{File: name, Data: []byte(text), Dir: "."}, q, &list, &sources)
	return a, list.Sorted()
}

// solved works on a file of testdata/measured, which must be without a finding.
func solved(t *testing.T, q fitfile.Request, file string) *fitfile.Answer {
	t.Helper()
	data, err := os.ReadFile(folder + file)
	if err != nil {
		t.Fatal(err)
	}
	a, findings := solve(t, q, file, string(data))
	for _, f := range findings {
		t.Errorf("%s: %s [%s]", f.Place, f.Message, f.Rule)
	}
	if a == nil {
		t.Fatal("no answer")
	}
	return a
}

func written(t *testing.T, write func(*fitfile.Answer, *bytes.Buffer) error, a *fitfile.Answer) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(a, &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func text(a *fitfile.Answer, b *bytes.Buffer) error { return a.Text(b) }
func yaml(a *fitfile.Answer, b *bytes.Buffer) error { return a.YAML(b) }
func js(a *fitfile.Answer, b *bytes.Buffer) error   { return a.JSON(b) }

// The answers as they are known, to the last digit: what each source is stands in the
// files, and how it was used beside the same figures in gen/fit's tests. The figures of
// the grid and of the tip are recomputed; the spot is the published one when rounded to
// its two decimals.
func TestPublishedAnswersArePrinted(t *testing.T) {
	for _, c := range []struct {
		kind, file string
		want       []string
	}{
		{"frame", "tracked_grid.csv", []string{
			"208.0073 209.5972 209.4792", "0.9999653 -0.0073592 0.0024312 0.0030479", "rms 0.00505 mm",
			"0.999970 -0.006131 0.004817", "0.006060 0.999873 0.014733", "-0.004907 -0.014703 0.999880",
		}},
		{"frame", "tracked_corner.yaml", []string{
			"0.999970 -0.006112 0.004831", "0.006040 0.999873 0.014750", "-0.004920 -0.014720 0.999880",
		}},
		{"tool", "pointer.csv", []string{"-4.5349 -64.1346 -76.5905", "197.1146 192.6773 192.4365", "99.9996", "0.00191 mm in each coordinate"}},
		{"grid", "plate.csv", []string{"14.3800 74.2400 0.0000", "9.0000 9.0000"}},
	} {
		out := written(t, text, solved(t, fitfile.Request{Kind: c.kind}, c.file))
		plain := strings.Join(strings.Fields(out), " ")
		for _, want := range c.want {
			if !strings.Contains(plain, want) {
				t.Errorf("%s: %q is not in\n%s", c.file, want, out)
			}
		}
	}
}

// Published: the spot at (197.11, 192.68, 192.44).
func TestPublishedSpot(t *testing.T) {
	var d struct{ Post [3]float64 }
	if err := json.Unmarshal([]byte(written(t, js, solved(t, fitfile.Request{Kind: "tool"}, "pointer.csv"))), &d); err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprintf("%.2f", d.Post); got != "[197.11 192.68 192.44]" {
		t.Errorf("got %s", got)
	}
}

// job is a plan in a folder of its own whose cell and grids are partly pasted.
func job(t *testing.T, cell, measured, grid string) *layout.Layout {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"cell.yaml": cell, "measured.yaml": measured} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	text := "format: gridferry plan 1\ncell: cell.yaml\nmotion: {tool: jaw, approach: 50, speed: {travel: 100, near: 50}}\ntransfers: []\n" + grid
	var list diag.List
	var sources diag.Sources
	l := layout.Resolve(plan.Read(plan.Source{File: "p", Data: []byte(text), Dir: dir}, nil, &list, &sources), layout.Options{}, &list)
	for _, f := range list.Sorted() {
		if f.Severity == diag.Error && f.Rule != "nothing-to-move" {
			t.Fatalf("%s: %s [%s]\n%s", f.Place, f.Message, f.Rule, text)
		}
	}
	return l
}

const (
	someTool = "tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}\n"
	someGrid = "grids: {g: {frame: base, rows: 1, columns: 1, first: [0, 0, 0]}}\n"
	header   = "format: gridferry cell 1\n"
)

func near(t *testing.T, what string, got, want geom.Vec, within float64) {
	t.Helper()
	if !(got.Dist(want) <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// A frame's YAML goes into a cell as it is, and says the same there.
func TestFramePastesIntoACell(t *testing.T) {
	a := solved(t, fitfile.Request{Kind: "frame", Name: "bath"}, "tracked_grid.csv")
	l := job(t, header+someTool+written(t, yaml, a), "", someGrid)
	f := l.Frames[1]
	if f.Name != "bath" {
		t.Fatalf("got the frame %q", f.Name)
	}
	for _, p := range []geom.Vec{{}, {X: 250}, {Y: 250}, {Z: 250}} {
		near(t, "a point of it", f.Base.Apply(p), a.Frame.Pose().Apply(p), 1e-4)
	}
}

// With the line that says so above it, it is a file of measured values.
func TestToolPastesIntoAMeasuredFile(t *testing.T) {
	data, err := os.ReadFile(folder + "pointer.csv")
	if err != nil {
		t.Fatal(err)
	}
	a, _ := solve(t, fitfile.Request{Kind: "tool", Name: "jaw"}, "pointer.csv", string(data))
	l := job(t, header+"measured: measured.yaml\n"+someTool, "format: gridferry measured 1\n"+written(t, yaml, a), someGrid)
	near(t, "the tip", l.Tools[0].TCP.T, geom.Vec{X: -4.5349, Y: -64.1346, Z: -76.5905}, 1e-9)
	if l.Tools[0].Mass != 1 {
		t.Errorf("the rest of the tool is lost: %+v", l.Tools[0])
	}
}

func TestToolKeepsItsOrientation(t *testing.T) {
	const file = "rpy: [0, 90, 0]\npivot:\n  - {at: [470, 220, 150], rpy: [0, 0, 0]}\n  - {at: [470, 350, 320], rpy: [90, 0, 0]}\n  - {at: [350, 220, 330], rpy: [0, 90, 0]}\n"
	a, findings := solve(t, fitfile.Request{Kind: "tool"}, "jaw.yaml", file)
	if a == nil || len(findings) != 0 {
		t.Fatalf("got %+v", findings)
	}
	// Constructed: the tip is at (30, -20, 150), the spot at (500, 200, 300).
	l := job(t, header+strings.Replace(someTool, "tcp: {at: [0, 0, 100]}, ", "", 1)+"measured: measured.yaml\n", "format: gridferry measured 1\n"+written(t, yaml, a), someGrid)
	near(t, "the tip", l.Tools[0].TCP.T, geom.Vec{X: 30, Y: -20, Z: 150}, 1e-9)
	if got := l.Tools[0].TCP.R.RPY(); math.Abs(got.Pitch-90) > 1e-9 {
		t.Errorf("the tool is turned by %v, want a pitch of 90", got)
	}
}

// A grid's YAML goes into a plan as it is. The four corners were not quite a
// parallelogram and still are not.
func TestGridPastesIntoAPlan(t *testing.T) {
	const file = "slot,x,y,z\nA2,310,200,50\nA6,350,201,50\nC2,309,220,51\nC6,350.2,222,51.5\n"
	a, findings := solve(t, fitfile.Request{Kind: "grid", Name: "tray", Tolerance: 2}, "t.csv", file)
	if a == nil || len(findings) != 1 || findings[0].Rule != "residual-large" {
		t.Fatalf("got %+v", findings)
	}
	l := job(t, header+someTool, "", written(t, yaml, a))
	g := l.Grids[0]
	if g.Name != "tray" || g.Rows != 3 || g.Columns != 6 {
		t.Fatalf("got %s, %d × %d", g.Name, g.Rows, g.Columns)
	}
	near(t, "A2", g.At(slot.Slot{Col: 1}), geom.Vec{X: 310, Y: 200, Z: 50}, 1e-3)
	near(t, "C6", g.At(slot.Slot{Row: 2, Col: 5}), geom.Vec{X: 350.2, Y: 222, Z: 51.5}, 1e-3)
	near(t, "B4", g.At(slot.Slot{Row: 1, Col: 3}), geom.Vec{X: 329.8, Y: 210.75, Z: 50.625}, 1e-3)
}

// The order of lines, blanks, remarks and the mark between fields make no difference.
func TestTablesOfAllSorts(t *testing.T) {
	const usual = "name,x,y,z\norigin,310,-210,42\nalong_x,520,-206,42.4\ntoward_y,307,-40,41.8\n"
	want := written(t, text, mustSolve(t, "f.csv", usual))
	for what, same := range map[string]string{
		"order":            "name,x,y,z\ntoward_y,307,-40,41.8\norigin,310,-210,42\nalong_x,520,-206,42.4\n",
		"columns":          "z,name,y,x\n42,origin,-210,310\n42.4,along_x,-206,520\n41.8,toward_y,-40,307\n",
		"remarks":          "# with the probe\n\nname,x,y,z\n# first\norigin,310,-210,42\nalong_x,520,-206,42.4\ntoward_y,307,-40,41.8\n",
		"semicolons":       "name;x;y;z\norigin;310;-210;42\nalong_x;520;-206;42.4\ntoward_y;307;-40;41.8\n",
		"CR LF":            strings.ReplaceAll(usual, "\n", "\r\n"),
		"byte order mark":  "\ufeff" + usual,
		"units and blanks": "Name, X, Y, Z\norigin, 31 cm, -210 mm, 42\nalong_x, 520, -206, 42.4\ntoward_y, 307, -40, 41.8\n",
	} {
		if got := written(t, text, mustSolve(t, "f.csv", same)); got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", what, got, want)
		}
	}
	if got := written(t, text, mustSolve(t, "<stdin>", usual)); !strings.HasPrefix(got, `frame "frame" by three points`) {
		t.Errorf("from standard input: got %s", got)
	}
}

func mustSolve(t *testing.T, name, text string) *fitfile.Answer {
	t.Helper()
	a, findings := solve(t, fitfile.Request{Kind: "frame"}, name, text)
	if a == nil {
		t.Fatalf("no answer: %+v", findings)
	}
	return a
}

// What is wrong with a file is reported at its line and column, once.
func TestFaultsInFiles(t *testing.T) {
	for _, c := range []struct{ kind, name, text, place, rule, message string }{
		{"frame", "f.csv", "", "f.csv", "no-points", "no line of points"},
		{"frame", "f.csv", "name,x,y,z\n", "f.csv", "no-points", "no line of points"},
		{"frame", "f.csv", "name,x,y\nA1,2,3\n", "f.csv:1:1", "bad-columns", "wanted nominal_x"},
		{"frame", "f.csv", "x,x,y,z,name\n1,2,3,4,5\n", "f.csv:1:3", "bad-columns", "the columns are x, x"},
		{"grid", "f.csv", "slot,x,y,z\nA1,1,2\nA2,1,2,3\n", "f.csv:2:1", "wrong-length", "the line has 3 fields, wanted 4"},
		{"grid", "f.csv", "slot,x,y,z\nÄ1,1,two,3\n", "f.csv:2:6", "not-a-number", `"two"`},
		{"grid", "f.csv", "slot,x,y,z\n\"A1,1,2,3\n", "f.csv:2", "bad-table", "cannot be read"},
		{"tool", "f.csv", "x,y,z,roll,pitch,yaw\n1,2,3,4 mm,5,6\n", "f.csv:2:7", "wrong-dimension", "wanted an angle"},
		{"tool", "f.csv", "x,y,z,qw,qx,qy,qz\n1,2,3,2,0,0,0\n1,2,4,1,0,0,0\n1,2,5,1,0,0,0\n", "f.csv:2:7", "bad-quaternion", "has the length 2"},
		{"frame", "f.csv", "name,x,y,z\norigin,0,0,0\nalong_y,1,0,0\n", "f.csv:3:1", "unknown-word", `found "along_y"`},
		{"frame", "f.yaml", "three_point: {}\n", "f.yaml:1:1", "unknown-key", `no key "three_point"`},
		{"grid", "f.yaml", "tolerance: 1\n", "f.yaml:1:1", "missing-key", `needs "corners"`},
		{"grid", "f.yaml", "corners: {}\n", "f.yaml:1:10", "bad-corners", "found 0 corners"},
		{"grid", "f.yaml", "corners: 5\n", "f.yaml:1:10", "wrong-type", "found \"5\""},
		{"frame", "f.yaml", "best_fit: {points: []}\n", "f.yaml:1:11", "bad-best-fit", "found 0 points"},
		{"frame", "f.yaml", "best_fit: {points: 5}\n", "f.yaml:1:20", "wrong-type", "found \"5\""},
		{"tool", "f.yaml", "pivot: 5\n", "f.yaml:1:8", "wrong-type", "found \"5\""},
		{"tool", "f.yaml", "pivot: []\n", "f.yaml:1:8", "bad-pivot", "found 0 poses"},
	} {
		a, findings := solve(t, fitfile.Request{Kind: c.kind}, c.name, c.text)
		if a != nil || len(findings) == 0 {
			t.Errorf("%q: got an answer or no finding", c.text)
			continue
		}
		f := findings[0]
		if len(findings) > 1 || f.Place.String() != c.place || f.Rule != c.rule || !strings.Contains(f.Message, c.message) {
			t.Errorf("%q: got %d findings, first %s: %s [%s]", c.text, len(findings), f.Place, f.Message, f.Rule)
		}
	}
}

// Every set that carries no answer is refused with what to touch next.
func TestDegenerateSetsSayWhatToTouch(t *testing.T) {
	for _, c := range []struct{ kind, text, hint string }{
		{"frame", "points:\n- {nominal: [0,0,0], measured: [0,0,0]}\n- {nominal: [9,0,0], measured: [9,0,0]}\n", "touch 1 more"},
		{"frame", "points:\n- {nominal: [0,0,0], measured: [0,0,0]}\n- {nominal: [9,0,0], measured: [9,0,0]}\n- {nominal: [20,0,0], measured: [20,0,0]}\n",
			"touch one more point, well to the side of the line along X"},
		{"frame", "three_points: {origin: [0,0,0], along_x: [100,0,0], toward_y: [200,1,0]}\n", `touch "toward_y" again, well to the side of the line through the others`},
		{"frame", "three_points: {origin: [0,0,0], along_x: [0.5,0,0], toward_y: [0,90,0]}\n", "touch one of them again, as far from the other as the work area allows"},
		{"tool", "pivot:\n- {at: [0,0,0], rpy: [0,0,0]}\n- {at: [9,0,0], rpy: [0,0,90]}\n", "touch 1 more, turned by 60° or more about X of the flange: the tool centre point stays unknown along Z"},
		{"tool", "pivot:\n- {at: [0,0,0], rpy: [0,0,0]}\n- {at: [9,0,0], rpy: [0,0,90]}\n- {at: [9,0,9], rpy: [0,0,45]}\n",
			"add a pose turned by 60° or more about X of the flange, the tip on the same spot"},
		{"tool", "pivot:\n- {at: [0,0,0], rpy: [0,0,0]}\n- {at: [9,0,0], rpy: [0,0,0]}\n- {at: [9,0,9], rpy: [0,0,0]}\n",
			"add a pose turned by 60° or more about X of the flange, the tip on the same spot"},
		{"grid", "corners: {A1: [0,0,0], A6: [50,0,0]}\n", "touch 1 more"},
		{"grid", "corners: {A1: [0,0,0], A6: [50,0,0], A9: [80,0,0]}\n", "touch a corner in another row and another column"},
		{"grid", "corners: {A1: [0,0,0], a01: [50,0,0], B1: [0,9,0]}\n", "correct the row or column of one of them"},
		{"grid", "corners: {A1: [0,0,0], A6: [50,0,0], B1: [90,0.1,0]}\n", `touch corner "B1" again, well to the side of the line through the others`},
	} {
		a, findings := solve(t, fitfile.Request{Kind: c.kind}, "f.yaml", c.text)
		if a != nil || len(findings) != 1 || findings[0].Hint != c.hint {
			t.Errorf("%q: got %+v, want the hint %q", c.text, findings, c.hint)
		}
	}
}

// A text in a table must not become a line of the YAML.
func TestNamesStayInsideTheRemark(t *testing.T) {
	const file = "name,nominal_x,nominal_y,nominal_z,measured_x,measured_y,measured_z\n\"a\ntools: {}\",0,0,0,0.1,0,0\nb,100,0,0,100,0,0\nc,0,100,0,0,100,0\n"
	for i, line := range strings.Split(strings.TrimSpace(written(t, yaml, mustSolve(t, "f.csv", file))), "\n") {
		if i == 0 && !strings.HasPrefix(line, "# ") || strings.HasPrefix(line, "tools") {
			t.Errorf("line %d: %s", i+1, line)
		}
	}
}

// Z pointing down, and a small tolerance, are reported beside the answer.
func TestVerdictsBesideTheAnswer(t *testing.T) {
	down := "three_points: {origin: [0,0,0], along_x: [0,100,0], toward_y: [100,0,0]}\n"
	a, findings := solve(t, fitfile.Request{Kind: "frame"}, "f.yaml", down)
	if a == nil || len(findings) != 1 || findings[0].Rule != "frame-z-down" {
		t.Errorf("got %+v", findings)
	}
	data, err := os.ReadFile(folder + "tracked_grid.csv")
	if err != nil {
		t.Fatal(err)
	}
	a, findings = solve(t, fitfile.Request{Kind: "frame", Tolerance: 0.005}, "f.csv", string(data))
	if a == nil || len(findings) != 1 || findings[0].Rule != "residual-too-large" || findings[0].Place.Line == 0 {
		t.Errorf("got %+v", findings)
	}
}
