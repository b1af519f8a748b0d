package layout

import (
	"slices"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/pattern"
)

func TestPartReachesFromTheTCPThatHoldsIt(t *testing.T) {
	g := &Grid{Pattern: pattern.Rows(pattern.Even(2, 3, 1), geom.Vec{}, geom.Vec{X: 60, Y: 50}, 0)}
	cube := &Part{Size: geom.Vec{X: 40, Y: 30, Z: 20}, Grip: 15}
	lo, hi := g.Around(cube, nil)
	if lo != (geom.Vec{X: -20, Y: -15, Z: -15}) || hi != (geom.Vec{X: 20, Y: 15, Z: 5}) {
		t.Errorf("the part reaches from %v to %v", lo, hi)
	}
	if middle := cube.Middle(); middle != (lo.Z+hi.Z)/2 {
		t.Errorf("its middle is %g above the TCP", middle)
	}
	corners := g.Corners(cube, 0, nil)
	if len(corners) != 8 || !slices.Contains(corners, lo) || !slices.Contains(corners, hi) {
		t.Errorf("its corners are %v", corners)
	}
	body := cube.Solid(geom.Pose{R: geom.IdentityRot(), T: geom.Vec{Z: cube.Middle()}})
	if b := body.Bounds(); b.Lo != lo || b.Hi != hi {
		t.Errorf("its body lies from %v to %v", b.Lo, b.Hi)
	}
}

// A part of unknown size is shown as a sign that does not touch its neighbour's.
func TestPartOfUnknownSizeIsAFlatSign(t *testing.T) {
	for _, c := range []struct {
		rows, columns int
		reach         float64
	}{{2, 3, 15}, {1, 3, 18}, {1, 1, 12}} {
		g := &Grid{Pattern: pattern.Rows(pattern.Even(c.rows, c.columns, 1), geom.Vec{}, geom.Vec{X: 60, Y: 50}, 0)}
		for _, p := range []*Part{nil, {Name: "block"}} {
			if lo, hi := g.Around(p, nil); hi != (geom.Vec{X: c.reach, Y: c.reach}) || lo != hi.Scale(-1) {
				t.Errorf("%d × %d: from %v to %v, wanted %g each way", c.rows, c.columns, lo, hi, c.reach)
			}
			if corners := g.Corners(p, 0, nil); len(corners) != 4 || !slices.Contains(corners, geom.Vec{Y: c.reach}) {
				t.Errorf("%d × %d: the sign has the corners %v", c.rows, c.columns, corners)
			}
		}
	}
}

func TestPartInAGrid(t *testing.T) {
	own, carried, found := &Part{Name: "own"}, &Part{Name: "carried"}, &Part{Name: "found"}
	said, filled, left := &Grid{Part: own, Holds: found}, &Grid{}, &Grid{Holds: found}
	l := &Layout{Entries: []*Entry{{Legs: []Leg{{To: Sequence{Grid: filled}}}}, {Legs: []Leg{{Part: carried, To: Sequence{Grid: said}}, {Part: carried, To: Sequence{Grid: filled}}}}}}
	for _, c := range []struct {
		g    *Grid
		want *Part
	}{{said, own}, {filled, carried}, {left, found}, {&Grid{}, nil}} {
		if got := l.PartIn(c.g); got != c.want {
			t.Errorf("found %v, wanted %v", got, c.want)
		}
	}
}
