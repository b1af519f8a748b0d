package draw_test

import (
	"slices"
	"strings"
	"testing"

	"gridferry/gen/draw"
)

// TestGridsOnGrids looks from above at a grid that stands on another one, which is defined
// behind it: what is drawn last lies on top, no free slot hides a part, and no label shows
// through what lies over it.
func TestGridsOnGrids(t *testing.T) {
	l := textLayout(t, `format: gridferry plan 1
cell:
  machine: {rated_load: 9}
  tools: {cup: {tcp: {at: [0, 0, 90]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  keep_out: {}
parts: {block: {mass: 1, size: [90, 90, 40], grip: 40}, slab: {mass: 1, size: [190, 90, 40], grip: 40}}
grids:
  blocks: {frame: base, rows: 1, columns: 4, pitch: [100, 0], first: [200, -300, 40], part: block, filled: all}
  slabs:  {frame: base, rows: 2, columns: 1, pitch: [0, 100], first: [700, -300, 40], part: slab, filled: all}
  upper:  {frame: base, rows: 2, columns: 2, pitch: [100, 100], first: [200, 100, 80], part: block}
  lower:  {frame: base, rows: 2, columns: 1, pitch: [0, 100], first: [250, 100, 40], part: slab}
motion: {tool: cup, approach: 100, speed: {travel: 200, near: 40}}
transfers:
  - {from: slabs, to: lower}
  - {from: blocks, to: upper}
`)
	for _, c := range []struct {
		after                        int
		lower, upper                 string // slots that are drawn
		labelsOfLower, labelsOfUpper string
	}{
		{0, "A1 B1", "A1 A2 B1 B2", "", "A1 A2 B1 B2"},
		{1, "A1 B1", "B1 B2", "A1", "B1 B2"},
		{2, "A1 B1", "", "A1 B1", ""},
		{3, "A1 B1", "A1", "B1", "A1"}, // the label of lower A1 would be half under the block
		{6, "A1 B1", "A1 A2 B1 B2", "", "A1 A2 B1 B2"},
	} {
		top := read(t, svg(t, l, draw.Options{After: c.after})).all(func(n *node) bool { return n.attr["data-view"] == "top" })[0]
		grids, labels := map[string]*node{}, map[string]string{}
		var order []string
		for _, g := range top.all(has("data-grid")) {
			grids[g.attr["data-grid"]] = g
			order = append(order, g.attr["data-grid"])
		}
		for _, g := range top.all(has("data-labels")) {
			var names []string
			for _, n := range g.all(named("text")) {
				if !strings.HasPrefix(n.text, "↓") {
					names = append(names, n.text)
				}
			}
			labels[g.attr["data-labels"]] = strings.Join(names, " ")
		}
		drawn := func(grid string) string {
			var names []string
			for _, n := range grids[grid].all(has("data-slot")) {
				names = append(names, n.attr["data-slot"])
			}
			slices.Sort(names)
			return strings.Join(names, " ")
		}
		if slices.Index(order, "upper") < slices.Index(order, "lower") {
			t.Errorf("after %d: %v are drawn in this order", c.after, order)
		}
		if lower, upper := drawn("lower"), drawn("upper"); lower != c.lower || upper != c.upper {
			t.Errorf("after %d: below %q, above %q, wanted %q and %q", c.after, lower, upper, c.lower, c.upper)
		}
		if labels["lower"] != c.labelsOfLower || labels["upper"] != c.labelsOfUpper {
			t.Errorf("after %d: labels below %q, above %q, wanted %q and %q", c.after, labels["lower"], labels["upper"], c.labelsOfLower, c.labelsOfUpper)
		}
	}
}
