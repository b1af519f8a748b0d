package draw

import (
	"cmp"
	"math"
	"slices"

	"gridferry/gen/geom"
)

// pt is a point of the paper, mm, x to the right and y down, or of a view's
// plane, mm of the cell, y up.
type pt struct{ x, y float64 }

func (p pt) plus(q pt) pt              { return pt{p.x + q.x, p.y + q.y} }
func (p pt) minus(q pt) pt             { return pt{p.x - q.x, p.y - q.y} }
func (p pt) times(k float64) pt        { return pt{float64(p.x * k), float64(p.y * k)} }
func (p pt) length() float64           { return math.Sqrt(float64(p.x*p.x) + float64(p.y*p.y)) }
func (p pt) to(q pt, t float64) pt     { return p.plus(q.minus(p).times(t)) }
func (p pt) near(q pt, d float64) bool { return p.minus(q).length() <= d }

// rect is an upright rectangle of the paper.
type rect struct{ x0, y0, x1, y1 float64 }

func box(x, y, w, h float64) rect { return rect{x, y, x + w, y + h} }

func (r rect) w() float64           { return r.x1 - r.x0 }
func (r rect) h() float64           { return r.y1 - r.y0 }
func (r rect) has(p pt) bool        { return r.x0 <= p.x && p.x <= r.x1 && r.y0 <= p.y && p.y <= r.y1 }
func (r rect) grown(d float64) rect { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }

// shared is the area, mm², that two rectangles have in common.
func (r rect) shared(s rect) float64 {
	w := min(r.x1, s.x1) - max(r.x0, s.x0)
	h := min(r.y1, s.y1) - max(r.y0, s.y0)
	if w <= 0 || h <= 0 {
		return 0
	}
	return float64(w * h)
}

// and is the rectangle around both.
func (r rect) and(s rect) rect {
	return rect{min(r.x0, s.x0), min(r.y0, s.y0), max(r.x1, s.x1), max(r.y1, s.y1)}
}

// inside is the part of s within r.
func (r rect) inside(s rect) rect {
	return rect{max(r.x0, s.x0), max(r.y0, s.y0), min(r.x1, s.x1), min(r.y1, s.y1)}
}

// bounds is the upright rectangle around points.
func bounds(points []pt) rect {
	r := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		r = rect{min(r.x0, p.x), min(r.y0, p.y), max(r.x1, p.x), max(r.y1, p.y)}
	}
	return r
}

// hull is the convex polygon around points, without repeated corners (the
// monotone chain of Andrew, 1979).
func hull(points []pt) []pt {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b pt) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) })
	sorted = slices.CompactFunc(sorted, func(a, b pt) bool { return a.near(b, hair) })
	if len(sorted) < 3 {
		return sorted
	}
	lower := chain(sorted)
	slices.Reverse(sorted)
	upper := chain(sorted)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// hair is a distance on paper that nobody sees, mm.
const hair = 0.002

func chain(sorted []pt) []pt {
	var out []pt
	for _, p := range sorted {
		for len(out) >= 2 && turn(out[len(out)-2], out[len(out)-1], p) <= 0 {
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	return out
}

// contains reports whether a convex polygon, as hull gives it, has a point inside.
func contains(polygon []pt, p pt) bool {
	for i, a := range polygon {
		if turn(a, polygon[(i+1)%len(polygon)], p) < 0 {
			return false
		}
	}
	return len(polygon) > 2
}

// nearestOn is the point of a polygon's outline that is nearest to another.
func nearestOn(polygon []pt, p pt) pt {
	best, least := polygon[0], math.Inf(1)
	for i, a := range polygon {
		way := polygon[(i+1)%len(polygon)].minus(a)
		t := 0.0
		if l := way.length(); l > hair {
			to := p.minus(a)
			t = max(0, min(1, (float64(to.x*way.x)+float64(to.y*way.y))/float64(l*l)))
		}
		if q := a.plus(way.times(t)); q.minus(p).length() < least {
			best, least = q, q.minus(p).length()
		}
	}
	return best
}

// turn is twice the area of the triangle a b c, positive for a left turn.
func turn(a, b, c pt) float64 {
	return float64((b.x-a.x)*(c.y-a.y)) - float64((b.y-a.y)*(c.x-a.x))
}

// clipLine cuts a line to a rectangle (Liang and Barsky, 1984); false where
// nothing of it is inside.
func clipLine(a, b pt, r rect) (pt, pt, bool) {
	from, to := 0.0, 1.0
	d := b.minus(a)
	for _, side := range [4][2]float64{{-d.x, a.x - r.x0}, {d.x, r.x1 - a.x}, {-d.y, a.y - r.y0}, {d.y, r.y1 - a.y}} {
		speed, room := side[0], side[1]
		switch {
		case speed == 0 && room < 0:
			return a, b, false
		case speed < 0:
			from = max(from, room/speed)
		case speed > 0:
			to = min(to, room/speed)
		}
	}
	return a.to(b, from), a.to(b, to), from <= to
}

// clipPolygon cuts a convex polygon to a rectangle, side by side (Sutherland
// and Hodgman, 1974).
func clipPolygon(polygon []pt, r rect) []pt {
	for _, side := range []func(pt) float64{
		func(p pt) float64 { return p.x - r.x0 }, func(p pt) float64 { return r.x1 - p.x },
		func(p pt) float64 { return p.y - r.y0 }, func(p pt) float64 { return r.y1 - p.y },
	} {
		polygon = clipSide(polygon, side)
	}
	return polygon
}

// clipSide keeps what is on the side where room is not negative.
func clipSide(polygon []pt, room func(pt) float64) []pt {
	var out []pt
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		here, there := room(p), room(q)
		if here >= 0 {
			out = append(out, p)
		}
		if here >= 0 != (there >= 0) {
			out = append(out, p.to(q, here/(here-there)))
		}
	}
	return out
}

// arc is a piece of a circle, from one angle to the next, degrees, clockwise on
// the paper; whole when it is all of it.
type arc struct {
	from, to pt
	large    bool
	whole    bool
}

// clipCircle gives the pieces of a circle that lie in a rectangle.
func clipCircle(c pt, radius float64, r rect) []arc {
	cuts := circleCuts(c, radius, r)
	if len(cuts) == 0 {
		if r.has(c.plus(pt{radius, 0})) {
			return []arc{{whole: true}}
		}
		return nil
	}
	var arcs []arc
	for i, from := range cuts {
		to := cuts[(i+1)%len(cuts)]
		if to <= from {
			to += 360
		}
		if r.grown(hair).has(onCircle(c, radius, (from+to)/2)) {
			arcs = append(arcs, arc{from: onCircle(c, radius, from), to: onCircle(c, radius, to), large: to-from > 180})
		}
	}
	return arcs
}

// circleCuts are the angles where a circle crosses the sides of a rectangle,
// in order.
func circleCuts(c pt, radius float64, r rect) []float64 {
	var cuts []float64
	add := func(p pt) {
		if r.grown(hair).has(p) {
			cuts = append(cuts, geom.Atan2(p.y-c.y, p.x-c.x))
		}
	}
	for _, x := range []float64{r.x0, r.x1} {
		if h, ok := leg(radius, x-c.x); ok {
			add(pt{x, c.y - h})
			add(pt{x, c.y + h})
		}
	}
	for _, y := range []float64{r.y0, r.y1} {
		if w, ok := leg(radius, y-c.y); ok {
			add(pt{c.x - w, y})
			add(pt{c.x + w, y})
		}
	}
	slices.Sort(cuts)
	return slices.Compact(cuts)
}

// leg is the other leg of a right triangle.
func leg(hypotenuse, leg float64) (float64, bool) {
	square := float64(hypotenuse*hypotenuse) - float64(leg*leg)
	if square <= 0 {
		return 0, false
	}
	return math.Sqrt(square), true
}

func onCircle(c pt, radius, degrees float64) pt {
	sin, cos := geom.SinCos(degrees)
	return pt{c.x + float64(radius*cos), c.y + float64(radius*sin)}
}
