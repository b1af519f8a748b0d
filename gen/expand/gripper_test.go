package expand_test

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

const coils = "grip: {set: {1: on, 2: off}, settle: 0.4, holds: {input: 5, level: on, within: 1}}, release: {set: {1: off, 2: on}, settle: 0.3, pulse: {3: 0.2}}"

// coiled is startPlan with a gripper of two outputs, a pulse and an input.
var coiled = strings.Replace(startPlan, "grip: {output: 1, level: on}, release: {output: 1, level: off}", coils, 1)

// TestTwoCoils: the moves of a gripper of two outputs, a pulse and an input, in the order
// that plan/FORMAT.md gives: the first output is the action's own, the others and the pulse
// come behind it and before the settling, and the input is asked before anything moves,
// behind every grip, and above every place, where the arm comes to rest for it.
func TestTwoCoils(t *testing.T) {
	const (
		opens = "release 1 off, set 2 on, set 3 on, dwell 0.2, set 3 off, dwell 0.3"
		grips = "grip 1 on, set 2 off, dwell 0.4, await 5 on 1"
		part1 = "to tray A1 approach 60 0, to tray A1 60 0, " + grips + ", select base, to tray A1 approach 60 5, to rack A1 approach 300 0, await 5 on 1, to rack A1 60 0, " + opens
	)
	tests := []struct {
		name    string
		holding bool
		want    string
	}{
		{"whole job", false, "note, await 5 off 1, select base, " + opens + ", " + part1},
		{"resumed, holding", true, "await 5 on 1, select base, to rack A2 approach 60 0, await 5 on 1, to rack A2 60 0, " + opens},
	}
	for _, tt := range tests {
		l := laidOut(t, coiled)
		var said []string
		for m := range run(l, tt.holding) {
			said = append(said, inFull(&m))
		}
		if got := strings.Join(said, ", "); !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s:\n%s\nwanted\n%s", tt.name, got, tt.want)
		}
	}
}

// TestAskedFirst: the question what is held stands behind the steps of "begin", outside any
// transfer, and rests on the line that names the tool.
func TestAskedFirst(t *testing.T) {
	l := laidOut(t, coiled)
	for m := range expand.Moves(l) {
		if m.N == 2 {
			if m.Kind != move.Await || m.Role != move.AskFirst || m.GoOn || m.Transfer != 0 || m.Place != l.Figures(nil, nil).ToolPlace {
				t.Errorf("move 2 is %+v", m)
			}
			return
		}
	}
}

// inFull is brief with signal, level and seconds.
func inFull(m *move.Move) string {
	switch m.Kind {
	case move.Grip, move.Release, move.Set:
		return fmt.Sprintf("%s %d %s", m.Kind, m.Signal, wording.Level(m.Level))
	case move.Await:
		return fmt.Sprintf("await %d %s %g", m.Signal, wording.Level(m.Level), m.Seconds)
	case move.Dwell:
		return fmt.Sprintf("dwell %g", m.Seconds)
	case move.Select, move.Travel, move.Straight, move.Note:
	}
	return brief(m)
}
