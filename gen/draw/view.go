package draw

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

// view looks at the cell along one direction.
type view struct {
	name, caption     string
	right, up, toward geom.Vec // in the base; toward points at the reader
	scale             float64  // paper mm for one mm of the cell
	lo, hi            pt       // what is shown, in the plane of right and up, mm of the cell
	on                rect     // where on the paper
}

// flat is a point of the base in the view's plane.
func (v *view) flat(p geom.Vec) pt { return pt{v.right.Dot(p), v.up.Dot(p)} }

// at is a point of the base on the paper.
func (v *view) at(p geom.Vec) pt { return v.paper(v.flat(p)) }

// paper is a point of the plane on the paper.
func (v *view) paper(p pt) pt {
	return pt{v.on.x0 + float64((p.x-v.lo.x)*v.scale), v.on.y1 - float64((p.y-v.lo.y)*v.scale)}
}

// along is a displacement of the base on the paper.
func (v *view) along(d geom.Vec) pt {
	f := v.flat(d)
	return pt{float64(f.x * v.scale), -float64(f.y * v.scale)}
}

func (v *view) all(points []geom.Vec) []pt {
	out := make([]pt, len(points))
	for i, p := range points {
		out[i] = v.at(p)
	}
	return out
}

// see widens what is shown to a point of the base.
func (v *view) see(points ...geom.Vec) {
	for _, p := range points {
		f := v.flat(p)
		v.lo = pt{min(v.lo.x, f.x), min(v.lo.y, f.y)}
		v.hi = pt{max(v.hi.x, f.x), max(v.hi.y, f.y)}
	}
}

func (v *view) size() pt { return v.hi.minus(v.lo) }

// widen adds paper millimetres on each side, and more until the least size is
// reached.
func (v *view) widen(margin, least pt) {
	size := v.size()
	dx := max(margin.x, (least.x-float64(size.x*v.scale))/2) / v.scale
	dy := max(margin.y, (least.y-float64(size.y*v.scale))/2) / v.scale
	v.lo, v.hi = v.lo.minus(pt{dx, dy}), v.hi.plus(pt{dx, dy})
}

// put places the view's upper left corner on the paper.
func (v *view) put(x, y float64) {
	size := v.size()
	v.on = box(x, y, float64(size.x*v.scale), float64(size.y*v.scale))
}

func newView(name string, right, up geom.Vec) view {
	return view{
		name: name, right: right, up: up, toward: right.Cross(up), scale: 1,
		lo: pt{math.Inf(1), math.Inf(1)}, hi: pt{math.Inf(-1), math.Inf(-1)},
	}
}

var (
	xAxis = geom.Vec{X: 1}
	yAxis = geom.Vec{Y: 1}
	zAxis = geom.Vec{Z: 1}
)

// views are the top view and the side view under it, in line with each other.
// The cell is turned so that its grids stand side by side in the side view as
// far as they can: X to the right and Y away from the reader, or X away and Y to
// the left, as one sees it who stands behind the arm.
func (s *scene) views() (top, side view) {
	right, up := s.directions()
	top, side = newView("top", right, up), newView("side", right, zAxis)
	name, _ := axisName(up)
	top.caption, side.caption = "Top view, seen along −Z", "Side view, seen along +"+name
	for _, p := range s.points() {
		top.see(p)
		side.see(p)
	}
	s.seeReach(&top, &side)
	top.lo.x, top.hi.x = min(top.lo.x, side.lo.x), max(top.hi.x, side.hi.x)
	side.lo.x, side.hi.x = top.lo.x, top.hi.x
	return top, side
}

// directions are what goes to the right and up in the top view.
func (s *scene) directions() (right, up geom.Vec) {
	if s.overlap(yAxis) < s.overlap(xAxis) {
		return geom.Vec{Y: -1}, xAxis
	}
	return xAxis, yAxis
}

// Directions are what goes to the right and up in the top view of a picture of the cell,
// for maps that lie as it does.
func Directions(l *layout.Layout) (right, up geom.Vec) {
	s := &scene{l: l, byName: map[string]*standing{}}
	s.stand()
	return s.directions()
}

// overlap is how much of the grids lies behind each other seen at right angles
// to a direction, as a share of their widths.
func (s *scene) overlap(along geom.Vec) float64 {
	type interval struct{ lo, hi float64 }
	var all []interval
	for _, g := range s.grids[:min(len(s.grids), mostThings)] {
		i := interval{math.Inf(1), math.Inf(-1)}
		for _, c := range g.corners(0) {
			i = interval{min(i.lo, along.Dot(c)), max(i.hi, along.Dot(c))}
		}
		all = append(all, i)
	}
	sum := 0.0
	for i, a := range all {
		for _, b := range all[:i] {
			common := min(a.hi, b.hi) - max(a.lo, b.lo)
			sum += max(0, common) / max(min(a.hi-a.lo, b.hi-b.lo), 1e-9)
		}
	}
	return sum
}

// points are those of the base that have to be on the picture.
func (s *scene) points() []geom.Vec {
	if s.o.Grid != "" {
		return s.gridPoints(s.byName[s.o.Grid])
	}
	points := append(append(s.bodyPoints(), s.stickPoints()...), geom.Vec{})
	for _, g := range s.grids {
		points = append(points, s.gridPoints(g)...)
	}
	for _, f := range s.l.Frames {
		points = append(points, f.Base.T)
	}
	for _, w := range s.l.Poses {
		points = append(points, w.Base(s.tool()).Vec)
	}
	for _, b := range s.l.Boxes {
		points = append(points, boxCorners(b.Frame.Base, b.From, b.To)...)
	}
	return points
}

// gridPoints are a grid's corners and its approach points.
func (s *scene) gridPoints(g *standing) []geom.Vec {
	points, by := g.corners(0), s.l.Figures(nil, g.Grid)
	lo, hi := g.Pattern.Bounds()
	box := boxCorners(g.Frame.Base, lo, hi)
	lifts := map[geom.Vec]bool{} // mostly all slots have one
	for _, s := range g.Pattern.Outline() {
		lift := by.Lift(g.Grid, s)
		if lifts[lift] {
			continue
		}
		lifts[lift] = true
		for _, c := range box {
			points = append(points, c.Add(lift))
		}
	}
	return points
}

// seeReach takes in the outer limit of reach where little is missing.
func (s *scene) seeReach(top, side *view) {
	const little = 0.15
	r := s.l.Cell.Machine.Radius
	if s.o.Grid != "" || !r.IsSet() {
		return
	}
	size := top.size()
	for _, d := range []geom.Vec{top.right, top.up, {X: -top.right.X, Y: -top.right.Y}, {X: -top.up.X, Y: -top.up.Y}} {
		far := d.Scale(r.V[1])
		f := top.flat(far)
		beyond := max(f.x-top.hi.x, top.lo.x-f.x, f.y-top.hi.y, top.lo.y-f.y)
		if beyond > 0 && beyond < float64(little*min(size.x, size.y)) {
			top.see(far)
			side.lo.x, side.hi.x = min(side.lo.x, f.x), max(side.hi.x, f.x)
		}
	}
}
