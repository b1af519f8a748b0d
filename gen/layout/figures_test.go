package layout_test

import (
	"math"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

const motionsPlan = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {wall: {at: [300, 0, 100], rpy: [90, 0, 0]}}
  poses: {high: {at: [300, 0, 500]}, door: {at: [100, 0, 300]}}
parts: {p: {mass: 0.1}}
grids:
  a: {frame: wall, rows: 1, columns: 2, pitch: [50, 0], first: [0, 0, 0], rpy: [150, 0, 0], part: p, filled: all, motion: {approach: 40, along: tool, entry: [door]}, offsets: {A2: [0, 0, -0.5]}}
  b: {frame: wall, rows: 1, columns: 2, pitch: [50, 0], first: [0, 90, 0], part: p}
motion: {tool: jaw, approach: 70, speed: {travel: 500, near: 80, loaded: 300}, fly_by: 15, clear: high}
transfers:
  - {from: a A1, to: b A1}
  - {from: a A2, to: b A2, motion: {speed: {travel: 200}, clear: none, along: [3, 0, 4]}}
`

// The nearest wins, key by key; the figures are those that the page on the format names.
func TestNearestFiguresWin(t *testing.T) {
	l, list := resolve(motionsPlan)
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	a, b := l.Grids[0], l.Grids[1]
	for _, test := range []struct {
		of                     string
		by                     *layout.Figures
		approach, travel, near float64
		clear                  string
		entry                  int
		away                   geom.Vec // from a slot, in the frame
		at                     *layout.Grid
	}{
		{"plan", l.Figures(nil, nil), 70, 500, 80, "high", 0, geom.Vec{Z: 1}, b},
		{"grid a", l.Figures(l.Entries[0], a), 40, 500, 80, "high", 1, geom.Vec{Y: 0.5, Z: math.Sqrt(3) / 2}, a}, // back along a tool that leans by 30°
		{"b in entry 1", l.Figures(l.Entries[0], b), 70, 500, 80, "high", 0, geom.Vec{Z: 1}, b},
		{"a in entry 2", l.Figures(l.Entries[1], a), 40, 200, 80, "", 1, geom.Vec{X: 0.6, Z: 0.8}, a},
		{"b in entry 2", l.Figures(l.Entries[1], b), 70, 200, 80, "", 0, geom.Vec{X: 0.6, Z: 0.8}, b},
	} {
		f, clear := test.by, ""
		if f.Clear != nil {
			clear = f.Clear.Name
		}
		if f.Approach.V != test.approach || f.Travel.V != test.travel || f.Near.V != test.near || f.Loaded.V != 300 || clear != test.clear || len(f.Entry) != test.entry {
			t.Errorf("%s: %+v, wanted %+v", test.of, f, test)
		}
		if away := f.Away(test.at, test.at.Slot(0)); away.Dist(test.away) > 1e-12 {
			t.Errorf("%s: the approach point lies along %v, wanted %v", test.of, away, test.away)
		}
		if l.AllFigures()[f.Number] != f {
			t.Errorf("%s: its number is another's", test.of)
		}
	}
	in, _ := a.Points(a.Slot(1))
	above, _ := l.Figures(nil, a).Above(a, a.Slot(1))
	if in.Z != -0.5 || math.Abs(above.Z-(-0.5+40*math.Sqrt(3)/2)) > 1e-9 || in.X != 50 {
		t.Errorf("a slot that is off its place is at %v, its approach point at %v", in, above)
	}
}

// A copy has figures of its own: to change them leaves the plan's alone.
func TestCopiedFigures(t *testing.T) {
	l, _ := resolve(motionsPlan)
	c := l.Copy()
	for _, f := range c.AllFigures() {
		f.Approach.V *= 2
		f.Tool.Mass = 9
	}
	if got := l.Figures(l.Entries[1], l.Grids[0]); got.Approach.V != 40 || got.Tool.Mass != 1 {
		t.Errorf("the plan's own are %g mm and %g kg now", got.Approach.V, got.Tool.Mass)
	}
	if got := c.Figures(c.Entries[1], c.Grids[0]).Approach.V; got != 80 {
		t.Errorf("the copy has %g mm, wanted 80", got)
	}
}
