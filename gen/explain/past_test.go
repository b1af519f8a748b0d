package explain_test

import (
	"bytes"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/explain"
	"gridferry/gen/layout"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/plan"
)

// passed is a plan of 12 transfers, with an entry that carries nothing among the others.
const passed = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  frames: {f: {at: [0, 0, 0]}}
  keep_out: {}
parts: {p: {mass: 0.1, size: [5, 5, 5]}}
grids:
  a: &grid {frame: f, rows: 1, columns: 9, pitch: [10, 10], first: [0, 0, 10], part: p, filled: all}
  b: {<<: *grid, first: [0, 50, 10], filled: none}
  c: {<<: *grid, first: [0, 100, 10], filled: none}
  d: {<<: *grid, first: [0, 150, 10], filled: none}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 80}}
begin:
  - set: {output: 3, level: on}
transfers:
  - from: a A1:A3
    to: d
  - {from: c, to: d}
  - chain:
      - a A4:A6
      - grid: b
        then: [dwell: 2]
      - c
  - from: a A7:A9
    to: d
`

// TestPastIsToldAsPast asks about lines of the plan that no move of a rest is made for: what
// was done before is reported as that, with the transfer that the resumed job begins with.
func TestPastIsToldAsPast(t *testing.T) {
	const (
		plain = "No move of this run depends on it."
		begun = "No move of this run depends on it: the beginning is over before transfer 4, with which this run begins."
		over  = "No move of this run depends on it: entry 1 is over before transfer 4, with which this run begins, so that nothing of it is left."
		done  = "No move of this run depends on it: what entry 3 does there is done before this run, which begins with transfer 7."
	)
	rest := func(n int) gen.Run { return gen.Run{Resume: &resume.Request{Transfer: n}} }
	tests := []struct {
		run  gen.Run
		text string // on the line that is asked about
		want string // "" for moves that rest on it
	}{
		{gen.Run{}, "from: a A1:A3", ""},
		{gen.Run{}, "{from: c", "No move depends on it."},
		{rest(4), "- from: a A1:A3", over},
		{rest(4), "    to: d", over},
		{rest(3), "- from: a A1:A3", ""},
		{rest(4), "{from: c", plain},
		{rest(4), "- a A4:A6", ""},
		{rest(7), "- a A4:A6", done},
		{rest(7), "- c", ""},
		{rest(4), "set: {", begun},
		{gen.Run{Resume: &resume.Request{Transfer: 4, Begin: true}}, "set: {", ""},
		{gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: 50}}, "set: {", plain},
		{gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: 50}, Resume: &resume.Request{Transfer: 4}}, "- from: a A1:A3", over},
		{gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: 50}, Resume: &resume.Request{Transfer: 4, Begin: true}}, "set: {", plain},
		{rest(9), "- grid: b", ""},
		{gen.Run{Resume: &resume.Request{Transfer: 9, Holding: true}}, "- grid: b", "what entry 3 does there is done before this run, which begins with transfer 9."},
	}
	for _, tt := range tests {
		job := new(gen.Job)
		if !job.Read(plan.Source{File: "p.yaml", Data: []byte(passed), Dir: "."}, nil, layout.Options{}) || !job.Prepare(tt.run) {
			t.Fatal(job.Findings.Sorted())
		}
		before, _, found := strings.Cut(passed, tt.text)
		if !found {
			t.Fatalf("no line has %q", tt.text)
		}
		query := explain.Query{PlanLine: 1 + strings.Count(before, "\n")}
		data := explained(t, job, shipped(t, job, "listing"), query)
		if (data.WhyNone == "") != (len(data.Moves) > 0) || !strings.Contains(data.WhyNone, tt.want) {
			t.Errorf("%+v, %q: the data have %d moves and say %q, wanted %q", tt.run, tt.text, len(data.Moves), data.WhyNone, tt.want)
		}
		report, err := job.Explain(shipped(t, job, "listing"), query)
		if err != nil {
			t.Fatal(err)
		}
		var text bytes.Buffer
		if err := report.Text(&text, 1000); err != nil {
			t.Fatal(err)
		}
		if want := tt.want; want == "" && report.Rests == 0 || want != "" && !strings.Contains(text.String(), want) {
			t.Errorf("%+v, %q: wanted %q\n%s", tt.run, tt.text, want, &text)
		}
	}
}

// TestLoopsHaveNoMoves: where the program has loops, that no move is listed says nothing
// about what rests on a line.
func TestLoopsHaveNoMoves(t *testing.T) {
	job := new(gen.Job)
	if !job.Read(plan.Source{File: "p.yaml", Data: []byte(passed), Dir: "."}, nil, layout.Options{}) {
		t.Fatal(job.Findings.Sorted())
	}
	family := shipped(t, job, "loops")
	query := explain.Query{PlanLine: 1 + strings.Count(passed[:strings.Index(passed, "- from: a A1:A3")], "\n")}
	const want = "What depends on it is not listed: the family loops writes loops, and no single moves."
	if data := explained(t, job, family, query); data.WhyNone != want || len(data.Moves) > 0 {
		t.Errorf("%d moves, and %q", len(data.Moves), data.WhyNone)
	}
	report, err := job.Explain(family, query)
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := report.Text(&text, 1000); err != nil || !strings.Contains(text.String(), want) {
		t.Errorf("%v\n%s", err, &text)
	}
}
