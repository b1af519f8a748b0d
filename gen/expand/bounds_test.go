package expand_test

import (
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
)

// A transfer that selects, opens, closes, waits, passes poses and stops as often as it can
// makes no more moves than are counted for it before it is made.
func TestMostMovesOfATransfer(t *testing.T) {
	text := strings.NewReplacer(
		"output: 1, level: on", "output: 1, level: on, settle: 1", "output: 1, level: off", "output: 1, level: off, settle: 1",
		"near: 60}", "near: 60}, clear: clear, start: rest, optional_stop: after-transfer",
		"rack: {frame: base", "rack: {frame: shelf", "transfers: [{from: tray, to: rack}]", "transfers: [{from: {grid: tray, then: [dwell: 1]}, to: {grid: rack, then: [dwell: 1, note: x]}}]",
	).Replace(startPlan)
	const steps = 3
	moves := map[int]int{}
	for m := range expand.Moves(laidOut(t, text)) {
		moves[m.Transfer]++
	}
	if n := moves[2] - steps; n > layout.MovesPerTransfer || n < layout.MovesPerTransfer-4 {
		t.Errorf("the second transfer makes %d moves, %d are counted for it", n, layout.MovesPerTransfer)
	}
}
