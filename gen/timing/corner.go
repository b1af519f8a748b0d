package timing

// corner is where two legs meet: at a stop, or inside a blend. Inside a blend
// the velocity changes evenly from one line's to the other's, which is a parabola
// that touches the lines; the time it takes is twice the distance from the corner
// at which it touches, divided by the speed on that line.
type corner struct {
	radius  float64 // mm from the corner within which the blend stays; 0 is a stop
	into    float64 // speed limit of the leg before
	outOf   float64 // and of the leg after
	ceiling float64 // neither speed is above this; 0 is a stop
}

// in and out are the speeds at which the blend is entered and left.
func (c *corner) in() float64  { return min(c.into, c.ceiling) }
func (c *corner) out() float64 { return min(c.outOf, c.ceiling) }

// seconds is how long the blend takes. The faster line is touched at the
// radius, the slower one nearer to the corner.
func (c *corner) seconds() float64 {
	if fastest := max(c.in(), c.out()); fastest > 0 {
		return 2 * c.radius / fastest
	}
	return 0
}

// before and after are how much of the legs lies inside the blend.
func (c *corner) before() float64 { return float64(c.in()*c.seconds()) / 2 }
func (c *corner) after() float64  { return float64(c.out()*c.seconds()) / 2 }

// cornerOf is the corner between two legs, at the highest speed that the
// machine allows inside the blend. A blend reaches to the middle of a leg at most.
func (m Machine) cornerOf(a, b *leg) corner {
	radius := min(a.blend, a.length/2, b.length/2)
	if radius <= 0 {
		return corner{}
	}
	c := corner{radius: radius, into: a.limits.Speed, outOf: b.limits.Speed}
	c.ceiling = highest(0, max(c.into, c.outOf), func(v float64) bool {
		try := c
		try.ceiling = v
		return m.allows(&try, a, b)
	})
	return c
}

// allows tells whether the blend takes long enough for the change of velocity
// and of the turn's. The axes of the two turns are taken at their worst, one
// against the other.
func (m Machine) allows(c *corner, a, b *leg) bool {
	t := c.seconds()
	line := Limits{Acceleration: m.Acceleration, Jerk: m.Jerk}
	change := b.unit.Scale(c.out()).Sub(a.unit.Scale(c.in())).Norm()
	if needs, _ := line.ramp(change); needs > t {
		return false
	}
	turn := Limits{Acceleration: m.TurnAcceleration}
	needs, _ := turn.ramp(float64(c.in()*a.perLength()) + float64(c.out()*b.perLength()))
	return needs <= t
}
