package timing

import "math"

// corner is where two legs meet: at a stop, or inside a fly-by. Inside a fly-by
// the velocity changes evenly from one line's to the other's, which is a parabola
// that touches the lines; the time it takes is twice the distance from the corner
// at which it touches, divided by the speed on that line.
type corner struct {
	radius  float64 // mm from the corner within which the fly-by stays; 0 is a stop
	into    float64 // speed limit of the leg before
	outOf   float64 // and of the leg after
	ceiling float64 // neither speed is above this; 0 is a stop
}

// in and out are the speeds at which the fly-by is entered and left.
func (c *corner) in() float64  { return min(c.into, c.ceiling) }
func (c *corner) out() float64 { return min(c.outOf, c.ceiling) }

// seconds is how long the fly-by takes. The faster line is touched at the
// radius, the slower one nearer to the corner.
func (c *corner) seconds() float64 {
	if fastest := max(c.in(), c.out()); fastest > 0 {
		return 2 * c.radius / fastest
	}
	return 0
}

// passage is how a corner is passed.
type passage struct {
	in, out       float64 // speeds
	seconds       float64
	before, after float64 // mm of the legs that lie inside the fly-by
}

func (c *corner) passage() passage {
	p := passage{in: c.in(), out: c.out(), seconds: c.seconds()}
	p.before, p.after = float64(p.in*p.seconds)/2, float64(p.out*p.seconds)/2
	return p
}

// cornerOf is the corner between two legs, at the highest speed that the
// machine allows inside the fly-by. A fly-by reaches to the middle of a leg at most.
//
// The fly-by has to take long enough for the change of velocity and of the turn's.
// The axes of the two turns are taken at their worst, one against the other.
func (m Machine) cornerOf(a, b *leg) corner {
	radius := min(a.flyBy, a.length/2, b.length/2)
	if radius <= 0 {
		return corner{}
	}
	c := corner{radius: radius, into: a.limits.Speed, outOf: b.limits.Speed}
	if m.Jerk == 0 && (m.TurnAcceleration == 0 || a.turn == 0 && b.turn == 0) && a.still() && b.still() {
		c.ceiling = c.evenly(m.Acceleration, b.unit.Sub(a.unit).Norm())
	} else {
		c.ceiling = c.searched(m, a, b)
	}
	return c
}

// searched is the ceiling by trial.
func (c *corner) searched(m Machine, a, b *leg) float64 {
	line, turn := Limits{Acceleration: m.Acceleration, Jerk: m.Jerk}, Limits{Acceleration: m.TurnAcceleration}
	turnIn, turnOut := a.perLength(), b.perLength()
	return highest(0, max(c.into, c.outOf), func(v float64) float64 {
		in, out := min(c.into, v), min(c.outOf, v)
		needs, _ := line.ramp(b.unit.Scale(out).Sub(a.unit.Scale(in)).Norm())
		turns, _ := turn.ramp(float64(in*turnIn) + float64(out*turnOut))
		needs = max(needs, turns)
		if m.Joints != nil {
			needs = max(needs, m.Joints.bends(a, b, in, out))
		}
		// As a length on the faster line, which grows more evenly than the time.
		return float64(needs*max(in, out)) - 2*c.radius
	})
}

// evenly is the ceiling where only an acceleration limits the fly-by. The bend is the
// distance between the two directions, each of length 1. With the speeds s and v of
// the slower and the faster line the velocity changes by √((v-s)² + s·v·bend²), and
// v times that may be 2·radius·acceleration.
func (c *corner) evenly(acceleration, bend float64) float64 {
	slower, faster := min(c.into, c.outOf), max(c.into, c.outOf)
	if acceleration == 0 || bend == 0 && slower == faster {
		return faster
	}
	most := float64(2 * c.radius * acceleration)
	if float64(slower*slower*bend) >= most {
		return math.Sqrt(most / bend)
	}
	// Newton's method on the squares, from above: where v is the faster speed they
	// are convex, so that it comes down to the root and never below it.
	v, square := faster, float64(slower*bend*bend)
	for {
		apart := v - slower
		change := float64(apart*apart) + float64(v*square)
		over := float64(v*v*change) - float64(most*most)
		if over <= 0 {
			return v
		}
		slope := 2*float64(v*change) + float64(v*v*(2*apart+square))
		next := v - over/slope
		if next >= v {
			return v
		}
		v = next
	}
}
