package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridferry/gen/draw"
	"gridferry/gen/geom"
)

const pointed = `
format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [100, 100, 300], rpy: %s}}
parts: {p: {mass: 0.1, size: [20, 20, 20]}}
grids:
  a: {frame: base, rows: 1, columns: 4, pitch: [100, 0], first: [0, 0, 10], part: p, filled: all, rpy: %s}
  b: {frame: base, rows: 1, columns: 4, pitch: [100, 0], first: [0, 200, 10]}
motion: {tool: jaw, approach: 60, speed: {travel: 100, near: 50}, clear: clear}
transfers: [{from: a, to: b}]
`

// toolSign is where a tool points in a view, and past which point.
func toolSign(view string, axis [2]float64, at [2]float64) string {
	length := math.Hypot(axis[0], axis[1])
	along, across := axis[0]/length, axis[1]/length
	return fmt.Sprintf("%s %+.0f %+.0f past %.1f", view, along+0, across+0, math.Abs(at[0]*across-at[1]*along))
}

// TestToolLines: at the clear pose, and at slots that the tool does not meet straight, a
// line along the tool leads to the TCP; none where the tool is seen end on.
func TestToolLines(t *testing.T) {
	clear, slot := geom.Vec{X: 100, Y: 100, Z: 300}, geom.Vec{Z: 10}
	down, up, level := geom.Vec{Z: -100}, geom.Vec{Z: 100}, geom.Vec{X: 100}
	type sign struct {
		view     string
		at, axis geom.Vec
	}
	for _, c := range []struct {
		clear, grid string
		want        []sign
	}{
		{"[180, 0, 0]", "[180, 0, 45]", []sign{{"side", clear, down}}},
		{"[0, 0, 90]", "[180, 0, 0]", []sign{{"side", clear, up}}},
		{"[180, 0, 0]", "[0, 0, 90]", []sign{{"side", clear, down}, {"side", slot, up}}},
		{"[180, 0, 0]", "[0, 90, 0]", []sign{{"top", slot, level}, {"side", clear, down}}},
	} {
		var got, want []string
		root := read(t, svg(t, textLayout(t, fmt.Sprintf(pointed, c.clear, c.grid)), draw.Options{}))
		for _, n := range root.all(has("data-tool")) {
			ends := points(t, n.all(func(n *node) bool { return n.attr["class"] == "axis" })[0])
			got = append(got, toolSign(n.above("data-view").attr["data-view"], [2]float64{ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]}, ends[1]))
		}
		for _, s := range c.want {
			view := readView(t, root.all(func(n *node) bool { return n.attr["data-view"] == s.view })[0])
			x, y := view.at(s.at)
			toX, toY := view.at(s.at.Add(s.axis))
			want = append(want, toolSign(s.view, [2]float64{toX - x, toY - y}, [2]float64{x, y}))
		}
		if strings.Join(got, ", ") != strings.Join(want, ", ") {
			t.Errorf("clear %s, grid %s: tools drawn %q, wanted %q", c.clear, c.grid, got, want)
		}
	}
}
