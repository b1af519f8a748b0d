package gen_test

import (
	"io/fs"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/proveout"
	"gridferry/plan"
	"gridferry/templates"
)

const runPlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  machine: {reach: {radius: [150, 600], height: [0, 400]}}
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [300, 0, 300]}}
parts: {block: {mass: 0.2, size: [20, 20, 20]}}
grids:
  here: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [300, -200, 20], part: block, filled: all}
  there: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [300, 200, 20], part: block}
motion: {tool: jaw, approach: 50, speed: {travel: 500, near: 60}, clear: clear}
transfers:
  - {from: here, to: there}
`

func jobOf(t *testing.T, text string) *gen.Job {
	t.Helper()
	j := new(gen.Job)
	if !j.Read(plan.Source{File: "run.plan.yaml", Data: []byte(text), Dir: "."}, nil, layout.Options{}) {
		t.Fatal(j.Findings.Sorted())
	}
	return j
}

func errorsOf(j *gen.Job) string {
	var b strings.Builder
	for _, f := range j.Findings.Sorted() {
		b.WriteString(f.Severity.String() + " " + f.Rule + ": " + f.Message + "\n")
	}
	return b.String()
}

// TestLiftedPathIsChecked lifts a sound plan out of reach.
func TestLiftedPathIsChecked(t *testing.T) {
	for _, tt := range []struct {
		lift float64
		want string
	}{{30, ""}, {330, ""}, {331, "error out-of-reach"}} {
		j := jobOf(t, runPlan)
		if !j.Prepare(gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: tt.lift}}) {
			t.Fatal(errorsOf(j))
		}
		j.Check()
		if got := errorsOf(j); strings.Contains(got, "error") != (tt.want != "") || !strings.Contains(got, tt.want) {
			t.Errorf("lifted by %g mm: %q, wanted %q", tt.lift, got, tt.want)
		}
	}
}

// TestLinesAreChecked: a travel past the base's axis is a warning where the
// controller chooses its path, and an error for a family that is given a line.
func TestLinesAreChecked(t *testing.T) {
	j := jobOf(t, strings.Replace(runPlan, "at: [300, 0, 300]", "at: [-300, 0, 300]", 1))
	j.Prepare(gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: 30}})
	if !j.Check() {
		t.Fatal(errorsOf(j))
	}
	for _, name := range []string{"st", "iso6983"} {
		fsys, err := fs.Sub(templates.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		f, ok := j.LoadFamily(fsys, name)
		if !ok {
			t.Fatal(errorsOf(j))
		}
		if ok := j.CheckFor(f); ok != (name == "st") {
			t.Errorf("%s: sound %v\n%s", name, ok, errorsOf(j))
		}
	}
	if got := errorsOf(j); !strings.Contains(got, "error out-of-reach: transfer 1: the straight line") || !strings.Contains(got, "error travel-on-a-line") {
		t.Error(got)
	}
}

// TestOptionalStops asks for stops that the plan does not.
func TestOptionalStops(t *testing.T) {
	for _, stops := range []bool{false, true} {
		j := jobOf(t, runPlan)
		j.Prepare(gen.Run{Stops: stops, ProveOut: &proveout.Options{Speed: 250, Lift: 30}})
		n := 0
		for m := range j.Moves() {
			if m.Pause {
				n++
			}
		}
		if stops && n != 2 || !stops && n != 0 {
			t.Errorf("%d optional stops, asked for: %v", n, stops)
		}
	}
}
