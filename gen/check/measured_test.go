package check_test

import (
	"slices"
	"strings"
	"testing"
)

// tilted is a plan that carries a block over a grid whose corners were touched: the
// side of column 3 lies as much higher as is said.
func tilted(rise string) string {
	return `format: gridferry plan 1
cell:
  tools:
    jaw: {tcp: {at: [0, 0, 120]}, mass: 0.8, grip: {output: 1, level: on}, release: {output: 1, level: off}}
  frames:
    bench: {at: [300, 0, 40]}
parts:
  block: {mass: 0.15, size: [30, 30, 30]}
grids:
  from: {frame: bench, rows: 1, columns: 1, first: [100, -200, 15], part: block, filled: all}
  to:   {frame: bench, rows: 1, columns: 1, first: [100, 200, 15], part: block}
  between:
    {frame: bench, rows: 2, columns: 3, part: block, filled: all,
     corners: {A1: [0, 0, 15], A3: [100, 0, ` + rise + `], B1: [0, 50, 15]}}
motion: {tool: jaw, approach: 40, speed: {travel: 250, near: 50}}
transfers:
  - {from: from, to: to}
`
}

// A part that stands higher than slot A1 because the tray leans is seen: the block
// passes 10 mm above a level tray, and not above one that rises by 30 mm. It leans with its
// tray: at a rise of 9 mm in 100 its upper edge is 15 mm × sin 5.1° = 1.3 mm higher, which
// is more than the 1 mm that is left.
func TestCollisionSeesATrayThatLeans(t *testing.T) {
	for rise, want := range map[string]bool{"15": false, "22": false, "24": true, "45": true} {
		var hit []string
		for _, f := range findings(t, tilted(rise)) {
			if strings.Contains(f.Message, "between") {
				hit = append(hit, f.Rule)
			}
		}
		if (len(hit) > 0) != want {
			t.Errorf("column 3 at z %s: got %v, want a collision: %v", rise, hit, want)
		}
	}
}

// Which place a finding about touched points stands at, and what it advises.
func TestTouchedPointsAreNamed(t *testing.T) {
	off := strings.Replace(planOf(t, page(t, "residual-too-large").Good), "[250, 260, 40]}", "[250, 260, 46]}", 1)
	for _, f := range findings(t, off) {
		// Four points in one plane: leaving out any of them makes the others fit.
		want := `without any one of "near left", "near right", "far left" and "far right" the others fit, so these points cannot show which is off: touch them again, and one more`
		if f.Rule != "residual-too-large" || f.Hint != want {
			t.Errorf("got %s [%s], hint %q", f.Message, f.Rule, f.Hint)
		}
	}
	fifth := strings.Replace(off, "        tolerance:", "          - {name: post, nominal: [100, 100, 60], measured: [350, 160, 100]}\n        tolerance:", 1)
	got := findings(t, fifth)
	if len(got) != 1 || !strings.Contains(got[0].Hint, `touch "far left" again: it is 6`) {
		t.Fatalf("got %+v, want one finding that names \"far left\"", got)
	}
	line := slices.IndexFunc(strings.Split(fifth, "\n"), func(s string) bool { return strings.Contains(s, "name: far left") }) + 1
	if got[0].Place.Line != line {
		t.Errorf("the finding stands at line %d, want the point's own, %d", got[0].Place.Line, line)
	}
}
