package arm

import (
	"math"

	"gridferry/gen/geom"
)

// spherical solves six turning joints of which the axes of the last three meet in one point, the wrist
// centre, and the first three are any: up to eight solutions in closed form.
//
// Turning about axis 1 keeps the distance and the height of the wrist centre from the foot of axis 1, turning
// about axis 2 those from the foot of axis 2, where the feet are those of their common perpendicular. So two coordinates
// of the wrist centre before joint 1 turns are known from joint 3 alone, and that they lie on its circle about axis 2 is one equation for
// joint 3 (Pieper 1968, in the form of Elias & Wen's subproblems).
type spherical struct {
	back  geom.Pose // the base in the flange, with all joints at reading 0
	wrist wrist

	axis                [3]geom.Vec // of the first three joints
	foot1, foot2        geom.Vec    // of the common perpendicular of axes 1 and 2
	e, n                geom.Vec    // along that, and square to it and to axis 2: e, n, axis 2 are right-handed
	offset, sine, along float64     // between the feet in mm; of the twist from axis 2 to axis 1, and its cosine
	aside               geom.Vec    // square to axis 1 and to e
	centre              circle      // of the wrist centre, about axis 3
	distance, height    sinusoid    // of the wrist centre from foot2: squared, and along axis 2
	level               bool        // axes 2 and 3 are parallel, and joint 3 keeps that height
	length              float64
}

func newSpherical(a *Arm) *spherical {
	one, two, three := &a.Joints[0], &a.Joints[1], &a.Joints[2]
	s := &spherical{back: a.Flange.Inverse(), wrist: newWrist(a), length: a.length}
	for i := range s.axis {
		s.axis[i] = a.Joints[i].Axis
	}
	s.foot1, s.foot2 = feet(one, two)
	s.offset = s.foot1.Dist(s.foot2)
	s.e, s.n = square2(s.foot2.Sub(s.foot1), one, two)
	s.sine, s.along, s.aside = one.Axis.Dot(s.n), one.Axis.Dot(two.Axis), one.Axis.Cross(s.e)
	if s.offset <= touch {
		s.offset = 0
	}
	if parallel(one, two) {
		s.sine = 0
	}
	s.centre = around(three.Axis, three.Point, s.wrist.centre)
	s.distance, s.height = s.centre.distance(s.foot2), s.centre.along(two.Axis, s.foot2)
	s.level = parallel(two, three)
	return s
}

// square2 returns a unit vector along the common perpendicular of two axes, and one square to it and
// to the second axis.
func square2(way geom.Vec, one, two *Joint) (e, n geom.Vec) {
	if !parallel(one, two) { // more exact where the axes nearly meet
		if c := one.Axis.Cross(two.Axis); c.Dot(way) < 0 {
			e, _ = geom.Vec{}.Sub(c).Unit()
		} else {
			e, _ = c.Unit()
		}
	} else {
		e, _ = way.Unit()
	}
	return e, two.Axis.Cross(e)
}

func (s *spherical) class() string { return "six axes with a spherical wrist" }

func (s *spherical) solve(flange geom.Pose, near Readings, found solutions) solutions {
	motion := flange.Mul(s.back)
	to := motion.Apply(s.wrist.centre).Sub(s.foot1)
	x := s.distance.times(-1)
	x.k += square(to) - float64(s.offset*s.offset)
	y := s.height.times(-s.along)
	y.k += s.axis[0].Dot(to)
	p := posture{spherical: s, motion: motion.R, to: to, radius: square(across(s.axis[0], to)), near: near}

	var at [2]direction
	n, always := 0, false
	switch {
	case s.level:
		return p.level(y.k/s.sine, found)
	case s.offset == 0:
		at, n, always = x.zeros(float64(s.length * s.length))
	case s.sine == 0:
		at, n, always = y.zeros(s.length)
	default:
		return s.skew(x, y, p, found)
	}
	if always {
		at[0], n = toward(near[2]), 1
	}
	for _, third := range at[:n] {
		found = p.sides(third, x, y, found)
	}
	return found
}

// skew takes joint 3 from the equation x²+y² = what its circle about axis 2 allows, with both offset and sine.
func (s *spherical) skew(x, y sinusoid, p posture, found solutions) solutions {
	var f series
	aa, ss := float64(4*s.offset*s.offset), float64(s.sine*s.sine)
	f.addSquare(ss, x)
	f.addSquare(aa, y)
	f.add(-float64(aa*ss), s.distance)
	f.addSquare(float64(aa*ss), s.height)
	var room [16]direction
	roots, some := f.roots(room[:0])
	if !some {
		roots = append(roots, toward(p.near[2]))
	}
	for _, third := range roots {
		found = p.sides(p.refined(third, x, y), x, y, found)
	}
	return found
}

// refined improves a root where the wrist centre comes close to axis 2, or shall come close to axis 1: there all terms
// of the equation are small, and taken one by one they are more exact than the series that has been made of them.
func (p *posture) refined(third direction, x, y sinusoid) direction {
	const close, most = 1e-2, 1e-3
	least := float64(close * p.length * close * p.length)
	for range 10 {
		v, w := p.centre.at(third).Sub(p.foot2), p.centre.b.Scale(third.cos).Sub(p.centre.a.Scale(third.sin)) // w: where v goes with joint 3
		from2 := across(p.axis[1], v)
		x, dx := x.at(third)/(2*p.offset), x.slope(third)/(2*p.offset)
		y, dy := y.at(third)/p.sine, y.slope(third)/p.sine
		var value, slope float64
		switch {
		case square(from2) < least: // x² + y² is the square of how far it is from axis 2
			vx, vy := p.e.Dot(v), p.n.Dot(v)
			value = float64((x-vx)*(x+vx)) + float64((y-vy)*(y+vy))
			slope = 2 * (float64(x*dx) + float64(y*dy) - from2.Dot(w))
		case p.radius < least: // with x from its circle about axis 2, it is as far from axis 1 as it shall be
			z, dz := p.z(v, y), p.z(w, dy)
			x = math.Copysign(math.Sqrt(max(square(from2)-float64(y*y), 0)), x)
			dx = (from2.Dot(w) - float64(y*dy)) / x
			value = float64((x+p.offset)*(x+p.offset)) + float64(z*z) - p.radius
			slope = 2 * (float64((x+p.offset)*dx) + float64(z*dz))
		}
		step := value / slope
		if !(math.Abs(step) < most) {
			break
		}
		third = third.plus(tangent(-step / 2))
	}
	return third
}

// z returns how far the wrist centre is aside of axis 1, square to e, before joint 1 turns.
func (p *posture) z(v geom.Vec, y float64) float64 {
	return float64(y*p.aside.Dot(p.n)) + float64(p.axis[1].Dot(v)*p.aside.Dot(p.axis[1]))
}

// posture is what the first three joints are asked for.
type posture struct {
	*spherical
	motion geom.Rot // of the flange, from all joints at 0
	to     geom.Vec // from foot1 to where the wrist centre shall be
	radius float64  // how far that is from axis 1, squared
	near   Readings
}

// level adds the solutions where axes 2 and 3 are parallel: the wrist centre stays in the plane that is y along n, and
// comes as far in front of axis 1 as behind it; a triangle is left for joints 2 and 3.
func (p *posture) level(y float64, found solutions) solutions {
	z := float64(y*p.aside.Dot(p.n)) + float64(p.height.k*p.aside.Dot(p.axis[1]))
	d := p.radius - float64(z*z)
	if d < -meeting*p.length*p.length {
		return found
	}
	for _, front := range [2]float64{math.Sqrt(max(d, 0)), -math.Sqrt(max(d, 0))} {
		x, f := front-p.offset, p.distance
		f.k -= float64(x*x) + float64(y*y) + float64(p.height.k*p.height.k)
		thirds, n, always := f.zeros(p.length * p.length)
		if always {
			thirds[0], n = toward(p.near[2]), 1
		}
		for _, third := range thirds[:n] {
			found = p.second(third, p.centre.at(third).Sub(p.foot2), x, y, found)
		}
	}
	return found
}

// little is how small offset (in arm's lengths) or sine may be for the coordinate that is divided by it to be
// trusted less than the two values that the circle about axis 2 leaves.
const little = 1e-3

// sides adds the solutions for one angle of joint 3: x and y are the coordinates of the wrist centre along e
// and n, before they are divided by twice the offset and by the sine.
func (p *posture) sides(third direction, x, y sinusoid, found solutions) solutions {
	v := p.centre.at(third).Sub(p.foot2)
	switch offset, sine := p.offset/p.length, math.Abs(p.sine); {
	case offset <= min(little, sine):
		y := y.at(third) / p.sine
		if to, x, ok := p.leg(square(across(p.axis[1], v)), y, 0, p.z(v, y), -p.offset); ok {
			found = p.second(third, v, to+x, y, found)
			found = p.second(third, v, to-x, y, found)
		}
	case sine <= little:
		x := x.at(third) / (2 * p.offset)
		if to, y, ok := p.leg(square(across(p.axis[1], v)), x, 0, x+p.offset, 0); ok {
			found = p.second(third, v, x, to+y, found)
			found = p.second(third, v, x, to-y, found)
		}
	default:
		found = p.second(third, v, x.at(third)/(2*p.offset), y.at(third)/p.sine, found)
	}
	return found
}

// leg returns the other leg of a right triangle with the square of its long side, to both sides of a place; false where there is
// none. Of the triangles about axis 2 and about axis 1 it takes the smaller one, which is the more exact.
func (p *posture) leg(square2, leg2, place2, leg1, place1 float64) (place, leg float64, ok bool) {
	long, leg, place := square2, leg2, place2
	if p.radius < long {
		long, leg, place = p.radius, leg1, place1
	}
	d := long - float64(leg*leg)
	return place, math.Sqrt(max(d, 0)), d >= -meeting*p.length*p.length
}

// second takes joints 2 and 1 from where the wrist centre is before and after they turn, and leaves the rest
// to the wrist.
func (p *posture) second(third direction, v geom.Vec, x, y float64, found solutions) solutions {
	up := p.axis[1].Scale(p.axis[1].Dot(v))
	u := p.e.Scale(x).Add(p.n.Scale(y)).Add(up)
	least := 1e-12 * p.length
	second, ok := between(p.axis[1], v, u, least)
	if !ok {
		second = toward(p.near[1])
		u = turn(p.axis[1], second).Apply(v)
	}
	first, ok := between(p.axis[0], u.Add(p.foot2.Sub(p.foot1)), p.to, least)
	if !ok {
		first = toward(p.near[0])
	}
	before := turn(p.axis[0], first).Mul(turn(p.axis[1], second)).Mul(turn(p.axis[2], third))
	r := Readings{first.degrees(), second.degrees(), third.degrees()}
	return p.wrist.solve(before.T().Mul(p.motion), r, p.near, found)
}
