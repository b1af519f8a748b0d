package draw_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/draw"
	"gridferry/gen/geom"
)

const handed = `
format: gridferry plan 1
cell:
  tools:
    jaw:
      tcp: {at: [0, 0, 100]}
      mass: 1
      body:
        palm:  {from: [40, 20, -50], to: [-40, -20, -100]}
        left:  {from: [-30, -10, -50], to: [-25, 10, 4], open: [-%[1]s, 0, 0]}
        right: {from: [25, -10, -50], to: [30, 10, 4], open: [%[1]s, 0, 0]}
      grip: {output: 1, level: on}
      release: {output: 1, level: off}
  frames: {turned: {at: [0, 300, 0], rpy: [0, 0, 90]}}
parts: {p: {mass: 0.1, size: [50, 50, 20]}}
grids:
  a: {frame: base, rows: 1, columns: 2, pitch: [120, 0], first: [0, 0, 10], part: p, filled: all}
  b: {frame: turned, rows: 1, columns: 2, pitch: [120, 0], first: [0, 0, 10], part: p}
motion: {tool: jaw, approach: 60, speed: {travel: 100, near: 50}}
transfers: [{from: a, to: b}]
`

// boxes are the outlines of a class in a group, each as the upright box around it.
func boxes(t *testing.T, group *node, class string) []string {
	var all []string
	var around [4]float64
	edges := group.all(func(n *node) bool { return n.attr["class"] == class })
	for i, n := range edges { // four to a box
		for k, p := range points(t, n) {
			if i%4 == 0 && k == 0 {
				around = [4]float64{p[0], p[1], p[0], p[1]}
			}
			around = [4]float64{min(around[0], p[0]), min(around[1], p[1]), max(around[2], p[0]), max(around[3], p[1])}
		}
		if i%4 == 3 {
			all = append(all, fmt.Sprintf("%.2f", around))
		}
	}
	slices.Sort(all)
	return all
}

// TestBodiesStandWhereTheToolIs: at the first slot of each grid, and at those of one
// transfer, the tool's boxes are drawn to scale; fingers open, and closed too where one can
// tell. The tool points down, so that its +Z is the base's -Z; in the frame that is turned its X
// is the base's Y.
func TestBodiesStandWhereTheToolIs(t *testing.T) {
	palm := [2]geom.Vec{{X: -40, Y: -20, Z: 60}, {X: 40, Y: 20, Z: 110}}
	left := [2]geom.Vec{{X: -30, Y: -10, Z: 6}, {X: -25, Y: 10, Z: 60}}
	right := [2]geom.Vec{{X: 25, Y: -10, Z: 6}, {X: 30, Y: 10, Z: 60}}
	out := func(b [2]geom.Vec, x float64) [2]geom.Vec {
		return [2]geom.Vec{b[0].Add(geom.Vec{X: x}), b[1].Add(geom.Vec{X: x})}
	}
	for _, c := range []struct {
		opens  float64
		o      draw.Options
		slot   string
		column float64
	}{{8, draw.Options{}, "A1", 0}, {8, draw.Options{Transfer: 2, Scheme: draw.Dark}, "A2", 120}, {0.5, draw.Options{}, "A1", 0}} {
		root := read(t, svg(t, textLayout(t, fmt.Sprintf(handed, fmt.Sprint(c.opens))), c.o))
		groups := root.all(has("data-body"))
		if len(groups) != 4 {
			t.Fatalf("%d tools are drawn, wanted one a grid and view", len(groups))
		}
		for _, g := range groups {
			grid := strings.TrimSuffix(g.attr["data-at"], " "+c.slot)
			view := readView(t, g.above("data-view"))
			isTop := g.above("data-view").attr["data-view"] == "top"
			on := func(boxes ...[2]geom.Vec) []string {
				var all []string
				for _, b := range boxes {
					for i := range b {
						b[i].X += c.column
						if grid == "b" {
							b[i] = geom.Vec{X: -b[i].Y, Y: 300 + b[i].X, Z: b[i].Z}
						}
					}
					x0, y0 := view.at(b[0])
					x1, y1 := view.at(b[1])
					all = append(all, fmt.Sprintf("%.2f", [4]float64{min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)}))
				}
				slices.Sort(all)
				return all
			}
			closed := []([2]geom.Vec){palm}
			if along := grid == "a" == (view.right == geom.Vec{X: 1}); c.opens > 1 && (isTop || along) {
				closed = append(closed, left, right) // else one cannot tell
			}
			if got, want := boxes(t, g, "body"), on(closed...); !slices.Equal(got, want) {
				t.Errorf("%+v, %s: closed %v, wanted %v", c, g.attr["data-at"], got, want)
			}
			if got, want := boxes(t, g, "open"), on(out(left, -c.opens), out(right, c.opens)); !slices.Equal(got, want) {
				t.Errorf("%+v, %s: open %v, wanted %v", c, g.attr["data-at"], got, want)
			}
		}
		legend := root.all(func(n *node) bool { return n.attr["class"] == "legend" })[0]
		for _, class := range []string{"body", "open"} {
			if samples := legend.all(func(n *node) bool { return n.attr["class"] == class }); len(samples) != 3 {
				t.Errorf("the legend shows %d boxes of class %q, wanted a palm and two fingers", len(samples), class)
			}
		}
	}
}

// TestBodyOfATurnedZone: a zone that stands turned in its tool is drawn as a plain tool whose
// boxes are written along the axes of that zone: turned by 90 degrees, its X is the tool's Y.
func TestBodyOfATurnedZone(t *testing.T) {
	plain := fmt.Sprintf(handed, "8")
	zoned := plain
	for _, c := range [][3]string{ // in the plan, a zone at 5, 7, 11, and its boxes as it sees them
		{"mass: 1", "mass: 1\n      zones: {one: {at: [5, 7, 11], rpy: [0, 0, 90], grip: {output: 1, level: on}, release: {output: 1, level: off}}}", "mass: 1"},
		{"      grip: {output: 1, level: on}\n      release: {output: 1, level: off}\n", "", "      grip: {output: 1, level: on}\n      release: {output: 1, level: off}\n"},
		{"from: [40, 20, -50], to: [-40, -20, -100]", "from: [40, 20, -50], to: [-40, -20, -100]", "from: [13, -35, -61], to: [-27, 45, -111]"},
		{"from: [-30, -10, -50], to: [-25, 10, 4], open: [-8, 0, 0]", "from: [-30, -10, -50], to: [-25, 10, 4], open: [-8, 0, 0]", "from: [-17, 35, -61], to: [3, 30, -7], open: [0, 8, 0]"},
		{"from: [25, -10, -50], to: [30, 10, 4], open: [8, 0, 0]", "from: [25, -10, -50], to: [30, 10, 4], open: [8, 0, 0]", "from: [-17, -20, -61], to: [3, -25, -7], open: [0, -8, 0]"},
	} {
		if !strings.Contains(plain, c[0]) {
			t.Fatalf("the plan has no %q", c[0])
		}
		plain, zoned = strings.Replace(plain, c[0], c[2], 1), strings.Replace(zoned, c[0], c[1], 1)
	}
	drawn := func(text string) (all [][]string) {
		for _, g := range read(t, svg(t, textLayout(t, text), draw.Options{})).all(has("data-body")) {
			all = append(all, boxes(t, g, "body"), boxes(t, g, "open"))
		}
		return all
	}
	want, got := drawn(plain), drawn(zoned)
	if len(want) != 8 || fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the zone's boxes are drawn at\n%v, wanted\n%v", got, want)
	}
}

// TestToolsCoverNoLetters: the letters of a slot stand out from a box of the tool across them.
func TestToolsCoverNoLetters(t *testing.T) {
	looked := 0
	for _, n := range read(t, svg(t, demoLayout(t, "mortar-cubes"), draw.Options{})).all(named("text")) {
		under := n.text == "↓2" || n.text == "↑1"
		if slots := n.above("data-labels"); slots == nil || !under && n.text != "D1" {
			continue
		}
		looked++
		if stands := strings.Contains(n.attr["class"], " on"); stands != under {
			t.Errorf("%q has the class %q", n.text, n.attr["class"])
		}
	}
	if looked != 4 {
		t.Errorf("%d were looked at, wanted those of A1 and D1 in tray and rack", looked)
	}
}
