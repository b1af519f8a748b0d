package expand_test

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

const startPlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {shelf: {at: [0, 0, 500]}}
  poses: {clear: {at: [300, 0, 400]}, rest: {frame: shelf, at: [100, 0, 0]}}
parts: {block: {mass: 0.2, size: [20, 20, 20]}}
grids:
  tray: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [200, 0, 20], part: block, filled: all}
  rack: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [200, 200, 20]}
motion: {tool: jaw, approach: 50, speed: {travel: 300, near: 60}, fly_by: 5}
begin: [{note: look}]
transfers: [{from: tray, to: rack}]
`

// TestStart: whatever run it is, its first motion goes to the start pose where there is one,
// at the speed near a slot, and ends in a stop; all others are as ever.
func TestStart(t *testing.T) {
	tests := []struct {
		name, motion string
		holding      bool // the part of transfer 2 is in the gripper, with which the run begins
		want         string
	}{
		{"no pose", "", false, "note, select base, release, to tray A1 approach 60 0, to tray A1 60 0"},
		{"clear alone", ", clear: clear", false, "note, select base, to clear 60 0, release, to tray A1 approach 300 5, to tray A1 60 0"},
		{"start alone", ", start: rest", false, "note, select shelf, release, to rest 60 0, select base, to tray A1 approach 300 5, to tray A1 60 0"},
		{"both", ", start: rest, clear: clear", false, "note, select shelf, to rest 60 0, select base, to clear 300 0, release, to tray A1 approach 300 5, to tray A1 60 0"},
		{"the same", ", start: clear, clear: clear", false, "note, select base, to clear 60 0, release, to tray A1 approach 300 5, to tray A1 60 0"},
		{"no pose, holding", "", true, "select base, to rack A2 approach 60 0, to rack A2 60 0"},
		{"clear alone, holding", ", clear: clear", true, "select base, to clear 60 0, to rack A2 approach 300 5, to rack A2 60 0"},
		{"both, holding", ", start: rest, clear: clear", true, "select shelf, to rest 60 0, select base, to clear 300 5, to rack A2 approach 300 5, to rack A2 60 0"},
	}
	for _, tt := range tests {
		text := strings.Replace(startPlan, "fly_by: 5", "fly_by: 5"+tt.motion, 1)
		l := laidOut(t, text)
		var said []string
		for m := range run(l, tt.holding) {
			said = append(said, brief(&m))
			if first := strings.Count(strings.Join(said, " "), "to ") == 1 && m.Kind.IsMotion(); m.First != first {
				t.Errorf("%s: %s is taken for the first motion, or not for it", tt.name, brief(&m))
			}
		}
		if got := strings.Join(said, ", "); !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s:\n%s\nwanted\n%s", tt.name, got, tt.want)
		}
	}
}

// run is the whole list or, holding, what remains from transfer 2 on with its part in the gripper.
func run(l *layout.Layout, holding bool) move.Seq {
	if !holding {
		return expand.Moves(l)
	}
	l.Held = &layout.Held{Part: l.Parts[0], Grid: l.Grids[0]}
	return expand.Rest(l, expand.Start{Transfer: 2})
}

// brief is a move in a word or two; a motion with its speed and its fly-by.
func brief(m *move.Move) string {
	switch {
	case m.Kind == move.Select:
		return "select " + m.Frame
	case m.Kind.IsMotion():
		return fmt.Sprintf("to %s %g %g", m.Target, m.Speed, m.FlyBy)
	}
	return m.Kind.String()
}

// TestThereAndBack: where a line that a step asks for leads back along the one before, the arm
// stops between them, whatever the fly-by radius; where it leads elsewhere, it does not.
func TestThereAndBack(t *testing.T) {
	tests := []struct{ begin, want string }{
		{"{go: clear}, {line: rest}, {line: clear}, {line: far}", "to clear 60 0, to rest 60 0, to clear 60 5, to far 60 0"},
		{"{go: clear}, {line: rest}, {note: look}, {line: clear}, {line: rest}", "to clear 60 0, to rest 60 0, to clear 60 0, to rest 60 0"},
		{"{go: clear}, {go: rest}, {line: clear}, {line: far}", "to clear 60 0, to rest 300 5, to clear 60 5, to far 60 0"},
		{"{go: clear}, {line: rest}, {line: far}, {line: clear}", "to clear 60 0, to rest 60 5, to far 60 5, to clear 60 0"},
		{"{go: clear}, {line: low}, {line: half}, {line: far}", "to clear 60 0, to low 60 0, to half 60 5, to far 60 0"},     // less far back than it came
		{"{go: clear}, {line: half}, {line: low}, {line: clear}", "to clear 60 0, to half 60 5, to low 60 0, to clear 60 0"}, // farther
	}
	for _, tt := range tests {
		text := strings.NewReplacer("{note: look}", tt.begin, "poses: {", "poses: {far: {at: [250, 50, 450]}, half: {at: [300, 0, 350]}, low: {at: [300, 0, 300]}, ").Replace(startPlan)
		var went []string
		for m := range expand.Rest(laidOut(t, text), expand.Whole) {
			if m.Transfer == 0 && m.Kind.IsMotion() {
				went = append(went, brief(&m))
			}
		}
		if got := strings.Join(went, ", "); got != tt.want {
			t.Errorf("%s: %s, wanted %s", tt.begin, got, tt.want)
		}
	}
}

// TestPulseDwell: the dwell of a pulse is known from one that the plan writes, since a
// prove-out leaves it out with its output.
func TestPulseDwell(t *testing.T) {
	text := strings.Replace(startPlan, "{note: look}", "{pulse: {output: 4, seconds: 0.2}}, {set: {output: 5, level: on}}, {dwell: 2}, {set: {output: 5, level: off}}", 1)
	pulses := map[float64]bool{}
	for m := range expand.Rest(laidOut(t, text), expand.Whole) {
		if m.Kind == move.Dwell {
			pulses[m.Seconds] = m.Pulse
		}
	}
	if len(pulses) != 2 || !pulses[0.2] || pulses[2] {
		t.Errorf("dwells, and whether they are pulses: %v", pulses)
	}
}
