package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/resume"
	"gridferry/plan"
)

// twoTools is a plan that begins with a jaw, works on with a tool of two zones, and ends with the jaw; keys
// of either tool go behind its mass, more entries behind the others.
func twoTools(jaw, twin, more string) plan.Source {
	const gripper = "grip: {output: %d, level: on}, release: {output: %[1]d, level: off}"
	text := fmt.Sprintf(`format: gridferry plan 1
title: two tools
cell:
  tools:
    jaw: {tcp: {at: [0, 0, 100]}, mass: 1, %s%s}
    twin: {tcp: {at: [0, 0, 90]}, mass: 2, zones: {left: {at: [-5, 0, 0], %s}, right: {at: [5, 0, 0], %s}}%s}
  frames: {f: {at: [0, 0, 0]}}
  poses: {clear: {at: [50, 50, 300]}, front: {at: [400, 0, 300]}, stand: {at: [400, 0, 100]}}
  keep_out: {}
parts: {p: {mass: 0.1, size: [5, 5, 5]}}
grids:
  a: &grid {frame: f, rows: 1, columns: 9, pitch: [10, 10], first: [0, 0, 10], part: p, filled: all}
  b: {<<: *grid, first: [0, 50, 10], filled: none}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 80}, clear: clear}
transfers:
  - {from: a A1:A2, to: b A1:A2}
  - {from: a A3:A4, to: b A3:A4, at_once: 2, motion: {tool: twin}}
  - {from: a A5, to: b A5}
%s`, fmt.Sprintf(gripper, 1), jaw, fmt.Sprintf(gripper, 2), fmt.Sprintf(gripper, 3), twin, more)
	return plan.Source{File: "tools.plan.yaml", Data: []byte(text), Dir: "."}
}

// steps of the arm at a stand.
const (
	fetches = ", fetch: [{go: front}, {line: stand}, {set: {output: 7, level: on}}, {line: front}]"
	leaves  = ", leave: [{go: front}, {line: stand}, {set: {output: 7, level: off}}, {line: front}]"
)

// TestSheetTellsOfChangesOfTool: whoever stands at the machine reads which tool has to be on the flange before
// the start, before which transfer and where it is changed, and whether that is up to the arm or to a person, who
// reads what to do. A tool with zones is one thing on the flange. What a resumed job has behind it is not said.
func TestSheetTellsOfChangesOfTool(t *testing.T) {
	const (
		before = "jaw is on the flange before the start; "
		stops  = "the program stops until a person has done this: "
		slow   = " The first motion behind such a stop is slow."
	)
	tests := []struct {
		name, jaw, twin string
		from            int
		want            string
	}{
		{"by hand", "", "", 0, before + "before transfer 3, at clear, " + stops + "take jaw off, fit twin; before transfer 5, at clear, " + stops + "take twin off, fit jaw." + slow},
		{"by the arm", fetches + leaves, fetches + leaves, 0,
			before + "before transfer 3, at clear, the arm leaves jaw and fetches twin by itself; before transfer 5, at clear, the arm leaves twin and fetches jaw by itself."},
		{"the jaw alone has a stand", fetches + leaves, "", 0, before + "before transfer 3, at clear, " + stops + "fit twin; before transfer 5, at clear, " + stops + "take twin off." + slow},
		{"the twin alone has one", "", fetches + leaves, 0, before + "before transfer 3, at clear, " + stops + "take jaw off; before transfer 5, at clear, " + stops + "fit jaw." + slow},
		{"both are only left", leaves, leaves, 0, before + "before transfer 3, at clear, " + stops + "fit twin; before transfer 5, at clear, " + stops + "fit jaw." + slow},
		{"resumed with the twin", "", "", 3, "twin is on the flange before the start; before transfer 5, at clear, " + stops + "take twin off, fit jaw." + slow},
		{"resumed behind the last change", "", "", 5, "jaw is on the flange before the start."},
	}
	for _, tt := range tests {
		var run gen.Run
		if tt.from > 0 {
			run.Resume = &resume.Request{Transfer: tt.from}
		}
		text := sheetOf(t, twoTools(tt.jaw, tt.twin, ""), run)
		_, said, _ := strings.Cut(text, "Changes of tool")
		if got := strings.Join(strings.Fields(said), " "); !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s: the sheet says %.300q, wanted %q", tt.name, got, tt.want)
		}
		if want := "tool " + strings.Fields(tt.want)[0] + " on the flange, gripper empty"; !strings.Contains(text, want) {
			t.Errorf("%s: the sheet does not say before its start %q", tt.name, want)
		}
	}
}

// TestSheetCountsManyChangesOfTool: a dozen are listed, and the others counted.
func TestSheetCountsManyChangesOfTool(t *testing.T) {
	more := ""
	for i := range 12 {
		tool, from, to := []string{"twin", "jaw"}[i%2], []string{"b", "a"}[i%2], []string{"a", "b"}[i%2]
		more += fmt.Sprintf("  - {from: %s A1, to: %s A1, motion: {tool: %s}}\n", from, to, tool)
	}
	text := sheetOf(t, twoTools("", "", more), gen.Run{})
	if !strings.Contains(text, "; before transfer 15, at clear, the program stops until a person has done this: take twin off, fit jaw; 2 more changes.") || strings.Contains(text, "before transfer 16,") {
		_, said, _ := strings.Cut(text, "Changes of tool")
		t.Errorf("the sheet says %.1500q", said)
	}
}

// TestSheetOfOneToolSaysNothingOfChanges: nobody looks for what is not there.
func TestSheetOfOneToolSaysNothingOfChanges(t *testing.T) {
	text := runPage(t, gen.Run{})
	if strings.Contains(text, "Changes of tool") || strings.Contains(text, "by hand, unknown") {
		t.Error("the sheet of a job with one tool tells of changes")
	}
}
