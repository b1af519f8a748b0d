package sheet_test

import (
	"bytes"
	"html"
	"regexp"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/plan"
)

// threeWays is a plan with a chain by legs, one by parts, and a plain entry, with steps
// that do something and steps that only inform.
const threeWays = `format: gridferry plan 1
title: three ways
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  frames: {f: {at: [0, 0, 0]}}
  keep_out: {}
parts: {p: {mass: 0.1, size: [5, 5, 5]}}
grids:
  a: &grid {frame: f, rows: 1, columns: 9, pitch: [10, 10], first: [0, 0, 10], part: p, filled: all}
  b: {<<: *grid, first: [0, 50, 10], filled: none}
  c: {<<: *grid, first: [0, 100, 10], filled: none}
  pan: {frame: f, rows: 1, columns: 1, first: [0, 150, 10], part: p}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 80}}
begin: [{note: lid open}, {set: {output: 3, level: on}}]
transfers:
  - chain: [a A1:A3, b, c]
  - {chain: [a A4:A6, {grid: pan, then: [{dwell: 2}, {await: {input: 4, level: on, within: 9}}]}, c], advance: part}
  - {from: a A7:A9, to: c}
end: [{set: {output: 3, level: off}}]
`

// runPage is the sheet of a run of threeWays.
func runPage(t *testing.T, run gen.Run) string {
	t.Helper()
	return sheetOf(t, plan.Source{File: "three.plan.yaml", Data: []byte(threeWays), Dir: "."}, run)
}

// sheetOf is the sheet of a run as text without markup, a table row a line.
func sheetOf(t *testing.T, source plan.Source, run gen.Run) string {
	t.Helper()
	job := new(gen.Job)
	if !job.Read(source, nil, layout.Options{}) || !job.Prepare(run) {
		t.Fatal(job.Findings.Sorted())
	}
	var b bytes.Buffer
	if ok, err := job.Sheet(&b, shipped(t, job, "listing")); err != nil || !ok {
		t.Fatal(err, job.Findings.Sorted())
	}
	text := strings.ReplaceAll(withoutScripts(b.String()), "</td><td", "</td>|<td")
	return html.UnescapeString(regexp.MustCompile(`<[^<>]*>`).ReplaceAllString(text, ""))
}

// The sheet of a resumed job says what is left of each entry; those that are done are counted.
func TestEntriesOfARest(t *testing.T) {
	const (
		legs  = "|each leg is made with all parts before the next leg begins\n"
		parts = "each part goes all the way before the next one starts; after putting down at pan: wait 2 s, wait until input 4 is on, stop after 9 s\n"
	)
	tests := []struct {
		next int
		rows []string
		over string
	}{
		{1, []string{"16|3|p|a A1 … A3 → b A1 … A3 → c A1 … A3|1 to 6" + legs, "17|3|p|a A4 … A6 → pan A1 → c A4 … A6|7 to 12|" + parts, "18|3|p|a A7 … A9 → c A7 … A9|13 to 15|\n"}, ""},
		{2, []string{"16|3|p|a A2, A3 → b A2, A3 → c A1 … A3|2 to 6 (of 1 to 6)" + legs}, ""},
		{3, []string{"16|3|p|a A3 → b A3 → c A1 … A3|3 to 6 (of 1 to 6)" + legs}, ""},
		{4, []string{"16|3|p|b A1 … A3 → c A1 … A3|4 to 6 (of 1 to 6)" + legs}, ""},
		{6, []string{"16|1|p|b A3 → c A3|6 (of 1 to 6)" + legs}, ""},
		{7, []string{"17|3|p|a A4 … A6 → pan A1 → c A4 … A6|7 to 12|each part"}, "Of the plan's entries 1 is done,"},
		{8, []string{"17|3|p|a A5, A6 → pan A1 → c A4 … A6|8 to 12 (of 7 to 12)|the first part goes on from pan A1; " + parts}, "1 is done"},
		{9, []string{"17|2|p|a A5, A6 → pan A1 → c A5, A6|9 to 12 (of 7 to 12)|" + parts}, "1 is done"},
		{12, []string{"17|1|p|pan A1 → c A6|12 (of 7 to 12)|the first part goes on from pan A1; " + parts}, "1 is done"},
		{15, []string{"18|1|p|a A9 → c A9|15 (of 13 to 15)|\n"}, "Of the plan's entries 2 are done,"},
	}
	for _, tt := range tests {
		text := runPage(t, gen.Run{Resume: &resume.Request{Transfer: tt.next}})
		for _, row := range tt.rows {
			if !strings.Contains(text, "\n"+row) {
				t.Errorf("from %d: %q is missing", tt.next, row)
			}
		}
		if !strings.Contains(text, tt.over) || tt.over == "" && strings.Contains(text, "Of the plan's entries") {
			t.Errorf("from %d: the page does not say %q, or says that some are done", tt.next, tt.over)
		}
	}
}

// The sheet of a prove-out lists the steps that the run does, and what it leaves out; with
// parts and at their height it is the job's.
func TestSheetOfAFirstRunTellsWhatIsSo(t *testing.T) {
	const (
		sets, waits, dwells = "switch output 3 on", "wait until input 4 is on", "after putting down at pan: wait 2 s"
		grips, lifts        = "grip, straight up", "straight down to 50 mm above it, straight up"
		drops, stands       = "Dropping a part", "every part stands where section 8 draws it"
		alone, byHand       = "gripper is left alone", "listed to be tried by hand"
		loaded, empty       = "The load changes with the part", "The load stays that of the tool"
		hourly              = "Parts per hour"
	)
	tests := []struct {
		name    string
		options *proveout.Options
		said    []string
		unsaid  []string
	}{
		{"the job", nil, []string{sets, waits, grips, drops, stands, hourly, loaded, "for the whole job while"}, []string{lifts, alone, byHand, empty}},
		{"still", &proveout.Options{Speed: 250, Lift: 50}, []string{dwells, lifts, alone, byHand, empty, "for this prove-out while", "100 mm above the part's slot"},
			[]string{sets, waits, grips, drops, stands, hourly, loaded}},
		{"steps", &proveout.Options{Speed: 250, Lift: 50, Steps: true}, []string{sets, waits, lifts, alone, byHand, empty}, []string{grips, drops, stands, hourly, loaded}},
		{"gripper", &proveout.Options{Speed: 250, Lift: 50, Grips: true}, []string{"above it, grip, straight up", byHand, empty}, []string{sets, waits, alone, drops, stands, hourly, loaded}},
		{"parts", &proveout.Options{Speed: 250, Grips: true, Steps: true}, []string{sets, waits, grips, drops, stands, hourly, loaded, "for this prove-out while"}, []string{lifts, alone, byHand, empty}},
	}
	for _, tt := range tests {
		text := runPage(t, gen.Run{ProveOut: tt.options})
		for _, words := range tt.said {
			if !strings.Contains(text, words) {
				t.Errorf("%s: %q is not said", tt.name, words)
			}
		}
		for _, words := range tt.unsaid {
			if strings.Contains(text, words) {
				t.Errorf("%s: %q is said, but it is not so", tt.name, words)
			}
		}
	}
}

// TestSheetSaysHowManyAtATime: at the head, and in the table where it is more than one.
func TestSheetSaysHowManyAtATime(t *testing.T) {
	for name, want := range map[string][2]string{
		"cartons":       {"carries 18 parts (18 × carton), one at a time,", ""},
		"two-cartons":   {"carries 5 parts (5 × carton), 2 at a time,", "2 parts at a time"},
		"pallet-layers": {"carries 30 parts (30 × carton), 2 at a time,", "2 parts at a time; above infeed: wait"},
	} {
		text := withoutScripts(page(t, fileSource(t, "../../testdata/demo/"+name+".plan.yaml"), "listing"))
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("the sheet of %s does not say %q", name, w)
			}
		}
		if want[1] == "" && strings.Contains(text, "parts at a time") {
			t.Errorf("the sheet of %s says that several go at a time", name)
		}
	}
}
