package arm

import (
	"math"

	"gridferry/gen/geom"
)

// direction is an angle as its cosine and sine.
type direction struct{ cos, sin float64 }

func toward(degrees float64) direction {
	s, c := geom.SinCos(degrees)
	return direction{c, s}
}

func (d direction) degrees() float64 { return geom.Atan2(d.sin, d.cos) }

// plus returns the sum of two angles.
func (d direction) plus(e direction) direction {
	return direction{
		float64(d.cos*e.cos) - float64(d.sin*e.sin),
		float64(d.sin*e.cos) + float64(d.cos*e.sin),
	}
}

func (d direction) minus() direction { return direction{d.cos, -d.sin} }

// half returns half the angle, of one in (-180, 180]: its cosine is not negative.
func (d direction) half() direction {
	if d.cos < 0 { // without a difference of nearly equal numbers
		sin := math.Sqrt((1 - d.cos) / 2)
		return direction{math.Abs(d.sin) / (2 * sin), math.Copysign(sin, d.sin)}
	}
	cos := math.Sqrt((1 + d.cos) / 2)
	return direction{cos, d.sin / (2 * cos)}
}

// unit returns the direction of (d.cos, d.sin) at length 1; false where that is not longer than least.
func (d direction) unit(least float64) (direction, bool) {
	n := math.Sqrt(float64(d.cos*d.cos) + float64(d.sin*d.sin))
	if !(n > least) {
		return direction{1, 0}, false
	}
	return direction{d.cos / n, d.sin / n}, true
}

// turn returns the turn about a unit vector (Rodrigues' formula).
func turn(k geom.Vec, by direction) geom.Rot {
	v := 1 - by.cos
	x, y, z := float64(k.X*v), float64(k.Y*v), float64(k.Z*v)
	sx, sy, sz := float64(k.X*by.sin), float64(k.Y*by.sin), float64(k.Z*by.sin)
	return geom.Rot{
		{float64(k.X*x) + by.cos, float64(k.X*y) - sz, float64(k.X*z) + sy},
		{float64(k.Y*x) + sz, float64(k.Y*y) + by.cos, float64(k.Y*z) - sx},
		{float64(k.Z*x) - sy, float64(k.Z*y) + sx, float64(k.Z*z) + by.cos},
	}
}

// across returns the part of a vector that is square to a unit vector.
func across(k, v geom.Vec) geom.Vec { return v.Sub(k.Scale(k.Dot(v))) }

// between returns the turn about a unit vector that takes one vector above another; false where one of
// them has no more than least to the side of it.
func between(k, from, to geom.Vec, least float64) (direction, bool) {
	from, to = across(k, from), across(k, to) // first, or what is small would drown in what is large
	if min(square(from), square(to)) <= float64(least*least) {
		return direction{1, 0}, false
	}
	return direction{from.Dot(to), k.Dot(from.Cross(to))}.unit(0)
}

// circle is where a point goes as a joint turns: middle + a·cos θ + b·sin θ.
type circle struct{ middle, a, b geom.Vec }

// around returns the circle of a point about the axis through another one.
func around(k, through, point geom.Vec) circle {
	middle := through.Add(k.Scale(k.Dot(point.Sub(through))))
	a := point.Sub(middle)
	return circle{middle, a, k.Cross(a)}
}

func (c circle) at(d direction) geom.Vec {
	return c.middle.Add(c.a.Scale(d.cos)).Add(c.b.Scale(d.sin))
}

// along returns how far the circle's points are along v, from another point.
func (c circle) along(v, from geom.Vec) sinusoid {
	return sinusoid{v.Dot(c.middle.Sub(from)), v.Dot(c.a), v.Dot(c.b)}
}

// distance returns the square of how far the circle's points are from another one.
func (c circle) distance(from geom.Vec) sinusoid {
	d := c.middle.Sub(from)
	return sinusoid{d.Dot(d) + c.a.Dot(c.a), 2 * d.Dot(c.a), 2 * d.Dot(c.b)}
}

// swing asks for the turns about an axis that bring a unit vector y to a given angle from another one, x.
// Half angles keep it exact where x, y and axis are nearly in one plane, as an arc cosine would not
// (the half-side formulae of spherical triangles).
type swing struct {
	x           geom.Vec
	middle      direction // the turn that brings y nearest to x
	sines       float64   // four times the sines of the angles from the axis to x and to y
	least, most float64   // the square of how near y comes to x, and to -x
}

func newSwing(axis, x, y geom.Vec) swing {
	s := around(axis, geom.Vec{}, y).along(x, geom.Vec{})
	middle, _ := direction{s.c, s.s}.unit(0)
	w := swing{x: x, middle: middle, sines: 4 * axis.Cross(x).Norm() * axis.Cross(y).Norm()}
	near := around(axis, geom.Vec{}, y).at(middle)
	far := around(axis, geom.Vec{}, y).at(direction{-middle.cos, -middle.sin})
	w.least, w.most = square(x.Sub(near)), square(x.Add(far))
	return w
}

func square(v geom.Vec) float64 { return v.Dot(v) }

// turns returns both turns that bring y as far from x as t is, a unit vector too; the same twice where
// they are one, and false where y does not get there.
func (w *swing) turns(t geom.Vec) ([2]direction, bool) {
	const slack = 1e-6
	s, c := (square(w.x.Sub(t))-w.least)/w.sines, (square(w.x.Add(t))-w.most)/w.sines
	if !(s > -slack && c > -slack) {
		return [2]direction{}, false
	}
	half, _ := direction{math.Sqrt(max(c, 0)), math.Sqrt(max(s, 0))}.unit(0)
	whole := half.plus(half)
	return [2]direction{w.middle.plus(whole), w.middle.plus(whole.minus())}, true
}

// feet returns where the common perpendicular of two axes stands on each.
func feet(a, b *Joint) (onA, onB geom.Vec) {
	n := a.Axis.Cross(b.Axis)
	way := b.Point.Sub(a.Point)
	if parallel(a, b) {
		return a.Point, b.Point.Sub(b.Axis.Scale(b.Axis.Dot(way)))
	}
	onA = a.Point.Add(a.Axis.Scale(way.Cross(b.Axis).Dot(n) / square(n)))
	onB = b.Point.Add(b.Axis.Scale(way.Cross(a.Axis).Dot(n) / square(n)))
	return onA, onB
}

// parallel reports whether two axes are, whichever way they point: to 1e-9, by which the far end of an arm of a
// metre moves a millionth of a mm.
func parallel(a, b *Joint) bool { return a.Axis.Cross(b.Axis).Norm() <= 1e-9 }

// touch is how near, in mm, axes count as meeting.
const touch = 1e-6

// Quarter is in which quarter turn a reading lies: 0 from 0 to 90 degrees, 1 from there to 180, -1 below 0.
// One that is only worked out to be a hair below counts as there, so that it is the same on every machine.
func Quarter(reading float64) int { return int(math.Floor(math.Round(reading*1e6) / 90e6)) }
