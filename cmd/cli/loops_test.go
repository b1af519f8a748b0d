package cli_test

import (
	"strings"
	"testing"
)

// TestLoopsOfManyPlaces: a table that writes out every place of the largest ring is no endless loop.
func TestLoopsOfManyPlaces(t *testing.T) {
	r := gridferry(`format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {pin: {mass: 0.1, size: [1, 1, 20]}}
grids:
  wheel: {frame: base, first: [0, 0, 20], ring: {radius: 4000, places: 10000}, part: pin, filled: [A1, A10000]}
  tray: {frame: base, rows: 2, columns: 1, pitch: [0, 80], first: [400, 50, 20], part: pin}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers: [{from: wheel, to: tray}]
`, "write", "-", "--family", "loops", "-o", "-")
	if r.status != 0 {
		t.Fatal(r.err)
	}
	if n := strings.Count(r.out, "\n  slot[1, "); n != 10000 || !strings.Contains(r.out, "\n  slot[1, 2501] = (0, 4000, 20)\n") {
		t.Errorf("%d places are written out, wanted 10000, and the one at a quarter of the circle at (0, 4000)", n)
	}
}

// TestLoopsOfUnequalRows: where rows are of unequal length, no table says that they all have as many columns.
func TestLoopsOfUnequalRows(t *testing.T) {
	r := gridferry(`format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {pin: {mass: 0.1, size: [10, 10, 20]}}
grids:
  odd: {frame: base, places: {A: [[300, 0, 20], [330, 0, 20]], B: [[300, 50, 20], [330, 50, 20], [360, 55, 20]]}, part: pin, filled: all}
  tray: {frame: base, rows: 1, columns: 5, pitch: [40, 0], first: [400, 150, 20], part: pin}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers: [{from: odd, to: tray}]
`, "write", "-", "--family", "loops", "-o", "-")
	for _, want := range []string{"# The grid odd: 2 rows of 2 to 3 columns\n", "# The grid tray: 1 row of 5 columns\n"} {
		if !strings.Contains(r.out, want) {
			t.Errorf("wanted %q in\n%s%s", want, r.out, r.err)
		}
	}
}
