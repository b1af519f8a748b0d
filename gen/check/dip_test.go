package check

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// lowest is how far below a corner a curve is at most, where it is at least gap beside the
// way down: by walking along it, since the rule has a formula. The curve leaves the level
// way r before the corner and joins the way down r below it; with bend it is the parabola
// with the corner as its control point (de Casteljau's construction), without, the chord.
func lowest(r, gap float64, bend bool) (dip float64) {
	between := func(a, b [2]float64, t float64) [2]float64 {
		return [2]float64{a[0] + (b[0]-a[0])*t, a[1] + (b[1]-a[1])*t}
	}
	begin, corner, end := [2]float64{r, 0}, [2]float64{}, [2]float64{0, -r}
	const steps = 20_000
	for i := range steps + 1 {
		t := float64(i) / steps
		at := between(begin, end, t)
		if bend {
			at = between(between(begin, corner, t), between(corner, end, t), t)
		}
		if at[0] >= gap {
			dip = max(dip, -at[1])
		}
	}
	return dip
}

// TestDip: the part that is passed by an approach point keeps 10 mm above its neighbours on
// a parabola, and touches them on no curve within the corner's triangle. The first case is
// that of parts 50 mm high and 2 mm apart, an approach of 60 and a fly-by of 30 mm: worked
// out by hand, 30·(1-√(2/30))² = 16.51 mm lower, 6.5 mm below the tops.
func TestDip(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every height is tried")
	}
	const text = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 120]}, mass: 0.8, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  machine: {rated_load: 3, speed: 500, acceleration: 1000, reach: {radius: [0, 2000], height: [0, 2000]}}
  poses: {clear: {at: [300, 300, 400]}}
  keep_out: {}
parts: {cube: {mass: 0.2, size: [50, 50, 50]}}
grids:
  a: {frame: base, rows: 2, columns: 3, pitch: [%[1]g, 90], first: [300, 0, 25], part: cube, filled: all}
  b: {frame: base, rows: 2, columns: 3, pitch: [90, %[1]g], first: [300, 600, 25], part: cube}
motion: {tool: jaw, approach: %[2]g, speed: {travel: 200, near: 50}, fly_by: %[3]g, clear: clear}
transfers: [{from: a, to: b}]
`
	const first = "2.0 mm beside its slot the part \"cube\" is 6.5 mm below its neighbours' tops on a parabola, and may be 18.0 mm below them"
	find := func(gap, approach, r float64) []diag.Finding {
		var list diag.List
		l := layoutOf(t, fmt.Sprintf(text, 50+gap, approach, r))
		Run(l, move.Batched(expand.Moves(l)), &list)
		return list.Sorted()
	}
	found := map[bool]int{}
	for _, gap := range []float64{2, 0, 0.5, 7, 12, 31} {
		for _, r := range []float64{30, 0, 5, 12} {
			parabola, chord := lowest(r, gap, true), lowest(r, gap, false)
			for approach := 60.0; approach < 92; approach += 0.75 {
				all := find(gap, approach, r)
				tight := len(all) > 0
				left := math.Min(approach-parabola-10, approach-chord) - 50
				if math.Abs(left) < 0.01 { // the steps are that fine
					continue
				}
				if found[tight]++; tight != (left < 0) {
					t.Errorf("gap %g, fly-by %g, approach %g: %v; %.3f mm are left", gap, r, approach, all, left)
				}
				if gap == 2 && r == 30 && approach == 60 && (!tight || !strings.Contains(all[0].Message, first)) {
					t.Errorf("found %v, wanted %q", all, first)
				}
				if tight && approach > 61 { // the advice helps, either of it, rounded as it is
					var high, small float64
					n, err := fmt.Sscanf(all[0].Hint, "an approach of %g mm or more leaves room for any curve, and so does a fly-by of %g mm", &high, &small)
					if n != 2 || len(find(gap, high, r)) > 0 || len(find(gap, approach, small)) > 0 {
						t.Errorf("gap %g, fly-by %g, approach %g: the advice is %q (%v)", gap, r, approach, all[0].Hint, err)
					}
				}
			}
		}
	}
	if found[true] < 50 || found[false] < 50 {
		t.Errorf("found and not found: %v", found)
	}
}
