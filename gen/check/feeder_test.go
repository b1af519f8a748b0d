package check_test

import (
	"slices"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/plan/diag"
)

// feederPlan has a single slot with a place on either side that is so low that a part on its way
// between the two meets what stands in the slot, and so does one that leaves the slot for them.
const feederPlan = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {p: {mass: 0.1, size: [20, 20, 40], grip: 20}}
grids:
  middle: {frame: base, rows: 1, columns: 1, first: [300, 0, 20], part: p, HOLDS}
  left: {frame: base, rows: 1, columns: 1, first: [300, -100, -40], part: p}
  right: {frame: base, rows: 1, columns: 1, first: [300, 100, -40], part: p, filled: all}
  far: {frame: base, rows: 1, columns: 2, pitch: [50, 0], first: [600, 0, 20], part: p, filled: all}
motion: {tool: jaw, approach: 45, speed: {travel: 200, near: 50}}
transfers:
  - `

// TestWhatLiesInFeeders: the next part is in an infeed when the arm travels on, and what was
// put into a chute lies there until the arm comes down again.
func TestWhatLiesInFeeders(t *testing.T) {
	for _, c := range []struct {
		what, holds, transfers string
		hits                   bool
	}{
		{"a part leaves a slot that stays empty", "filled: all", "{from: middle, to: left}", false},
		{"a part leaves an infeed, where the next one is", "flow: in", "{from: middle, to: left}", true},
		{"past an infeed", "flow: in", "{from: right, to: left}", true},
		{"past a chute that nothing was put into", "flow: out", "{from: right, to: left}", false},
		{"past a chute that something was put into", "flow: out", "{from: far, to: middle, take: 1}\n  - {from: right, to: left}", true},
		{"two after each other into a chute", "flow: out", "{from: far, to: middle}", false},
	} {
		t.Run(c.what, func(t *testing.T) {
			var list diag.List
			l := resolve(strings.Replace(feederPlan, "HOLDS", c.holds, 1)+c.transfers+"\n", &list)
			check.Run(l, expand.Batches(l, expand.Whole), &list)
			hits := slices.ContainsFunc(list.Sorted(), func(f diag.Finding) bool { return f.Rule == "travel-over-parts" })
			if hits != c.hits || list.HasErrors() {
				t.Errorf("found %+v", list.Sorted())
			}
		})
	}
}
