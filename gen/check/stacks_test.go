package check_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// stacksOf is the stacks of grids in a plan that moves nothing of them.
func stacksOf(t *testing.T, grids string) *layout.Layout {
	t.Helper()
	text := fmt.Sprintf(`format: gridferry plan 1
cell:
  tools: {plate: {tcp: {at: [0, 0, 200]}, mass: 5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {dock: {at: [900, -300, 100], rpy: [0, 0, 90]}}
parts: {cube: {mass: 3, size: [100, 100, 100]}, slab: {mass: 5, size: [200, 100, 50], grip: 50}}
grids:
%s  spot: {frame: base, rows: 1, columns: 2, pitch: [200, 0], first: [0, 0, 0], part: cube, filled: A1}
motion: {tool: plate, approach: 700, speed: {travel: 500, near: 60}}
transfers: [{from: spot A1, to: spot A2}]
`, grids)
	var list diag.List
	p := plan.Read(plan.Source{File: "x.plan.yaml", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources))
	l := layout.Resolve(p, layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	return l
}

// TestStacksAreWeighed holds the centre of gravity to the centroids of composite bodies, as any
// textbook of statics has them: the sum of mass times position over the sum of mass.
func TestStacksAreWeighed(t *testing.T) {
	for _, c := range []struct {
		name, grids  string
		height, mass float64
		centre       geom.Vec
		share        float64
	}{
		{"a column of five cubes: the middle of its height",
			"  s: {frame: dock, boxes: {layers: 5}, pallet: [100, 100], part: cube}\n", 500, 15, geom.Vec{X: 50, Y: 50, Z: 250}, 1},
		{"three cubes as an L: 5/6 of an edge from both outer sides",
			"  s: {frame: dock, boxes: {pattern: [{at: [50, 50]}, {at: [150, 50]}, {at: [50, 150]}]}, pallet: [200, 200], part: cube}\n",
			100, 9, geom.Vec{X: 250. / 3, Y: 250. / 3, Z: 50}, 0.75},
		{"two such layers, the upper turned by half: the middle of the footprint",
			"  s: {frame: dock, first: [30, -40, 70], boxes: {layers: 2, alternate: turn, pattern: [{at: [50, 50]}, {at: [150, 50]}, {at: [50, 150]}]}, pallet: [200, 200], part: cube}\n",
			200, 18, geom.Vec{X: 100, Y: 100, Z: 100}, 0.75},
		{"one layer of two slabs and a missing one above: (2·25 + 75)/3",
			"  s: {frame: dock, boxes: {layers: 2}, pallet: [200, 200], part: slab, missing: A2.2}\n",
			100, 15, geom.Vec{X: 100, Y: 250. / 3, Z: 125. / 3}, 1},
	} {
		s := check.Stacks(stacksOf(t, c.grids))[0]
		if math.Abs(s.Height-c.height)+math.Abs(s.Mass-c.mass)+math.Abs(s.Share-c.share) > 1e-9 || s.Centre.Dist(c.centre) > 1e-9 {
			t.Errorf("%s: %g mm, %g kg, %v, %g of the footprint", c.name, s.Height, s.Mass, s.Centre, s.Share)
		}
	}
}

// Stacks on one footprint weigh together: two layers of cubes, 12 kg in each 50 and 150 mm up,
// and a layer of two slabs, 10 kg 225 mm up, are 34 kg at (12·50 + 12·150 + 10·225)/34 mm.
func TestStacksOnOnePalletAreWeighedTogether(t *testing.T) {
	all := check.Together(check.Stacks(stacksOf(t, `  upper: {frame: dock, first: [0, 0, 200], boxes: {}, pallet: [200, 200], part: slab}
  lower: {frame: dock, boxes: {layers: 2}, pallet: [200, 200], part: cube}
  beside: {frame: dock, first: [300, 0, 0], boxes: {layers: 2}, pallet: [200, 200], part: cube}
`)))
	want := geom.Vec{X: 100, Y: 100, Z: (12*50 + 12*150 + 10*225) / 34.}
	if len(all) != 1 || all[0].Grid.Name != "lower" || all[0].Height != 250 || all[0].Mass != 34 || all[0].Centre.Dist(want) > 1e-9 {
		t.Errorf("got %+v", all)
	}
}

// Three slabs of 200 × 100 fill 300 × 200: one across at x = 0 to 100, two along beside it. Turned
// by half, each lies on two others; of the joints, 200 mm at x = 200 and 200 mm at y = 100, only
// the piece from x = 100 to 200 at y = 100 is over a joint of the layer below: a quarter.
func TestStacksSayHowLayersRest(t *testing.T) {
	const three = "[{at: [50, 100], turned: 90}, {at: [200, 50]}, {at: [200, 150]}]"
	for alternate, want := range map[string]string{
		"none": "every box rests on the layer below with its whole base, but none on more than one box: nothing ties the layers together",
		"turn": "every box rests on the layer below with its whole base, 3 of 3 on more than one box; 25 % of the joints run through two layers",
	} {
		notes := check.StackNotes(stacksOf(t, "  s: {frame: dock, boxes: {layers: 3, alternate: "+alternate+", pattern: "+three+"}, pallet: [300, 200], part: slab}\n"))
		if len(notes) != 2 || notes[1].Text != want || !strings.HasPrefix(notes[0].Text, "3 boxes a layer, 100 % of the footprint 300x200; 9 boxes in 3 layers: 150 mm high, 45 kg, centre of gravity at 150, 100, 75 mm") {
			t.Errorf("%s: %v", alternate, notes)
		}
	}
}
