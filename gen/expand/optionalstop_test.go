package expand_test

import (
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/move"
)

const twoParts = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [300, 0, 400]}}
parts: {cube: {mass: 0.3, size: [50, 50, 50]}}
grids:
  tray: {frame: base, rows: 1, columns: 2, pitch: [65, 65], first: [300, 100, 50], part: cube, filled: all}
  rack: {frame: base, rows: 1, columns: 2, pitch: [65, 65], first: [300, -100, 50], part: cube}
motion: {tool: jaw, approach: 70, fly_by: 15, speed: {travel: 500, near: 80}, optional_stop: never}
transfers:
  - {from: tray, to: rack}
`

func movesOf(t *testing.T, text string) []move.Move {
	t.Helper()
	var moves []move.Move
	for m := range expand.Moves(laidOut(t, text)) {
		moves = append(moves, m)
	}
	return moves
}

// An optional stop comes last in each transfer, nothing else changes but that
// the arm comes to rest before it, and the place is the plan's own line.
func TestOptionalStop(t *testing.T) {
	without := movesOf(t, twoParts)
	with := movesOf(t, strings.Replace(twoParts, "never", "after-transfer", 1))
	if len(with) != len(without)+2 {
		t.Fatalf("%d moves, wanted two more than %d", len(with), len(without))
	}
	k := 0
	for i, m := range with {
		if !m.Pause {
			w := without[k]
			k++
			if m.Kind != w.Kind || m.Base != w.Base || m.Transfer != w.Transfer {
				t.Errorf("move %d is %v, wanted %v", m.N, m, w)
			}
			continue
		}
		last := i+1 == len(with) || with[i+1].Transfer != m.Transfer
		if m.Kind != move.Note || !last || m.Place.Line != 11 || !strings.Contains(m.Text, "optional stop after transfer") {
			t.Errorf("move %d: %+v", m.N, m)
		}
		for j := i - 1; j >= 0; j-- {
			if with[j].Kind.IsMotion() {
				if with[j].FlyBy != 0 {
					t.Errorf("move %d passes its point before the stop", with[j].N)
				}
				break
			}
		}
	}
}
