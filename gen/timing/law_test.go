package timing

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/geom"
)

// some is a random profile that is possible, and its inputs.
type some struct {
	distance, start, end float64
	limits               Limits
	p                    Profile
}

func random(r *rand.Rand) some {
	var s some
	s.limits = Limits{Speed: 1 + 1000*r.Float64(), Acceleration: 10 + 5000*r.Float64()}
	if r.IntN(3) > 0 {
		s.limits.Jerk = 100 + 1e5*r.Float64()
	}
	if s.limits.Jerk > 0 && r.IntN(4) == 0 {
		s.limits.Acceleration = 0
	}
	s.start, s.end = s.limits.Speed*r.Float64(), s.limits.Speed*r.Float64()
	if r.IntN(2) == 0 {
		s.start, s.end = 0, 0
	}
	s.distance = s.limits.way(s.start, s.end) + math.Pow(10, 4*r.Float64()-1)
	s.p = Between(s.distance, s.start, s.end, s.limits)
	return s
}

// phase is a stretch of constant jerk.
type phase struct{ seconds, jerk, acceleration float64 }

// phases takes a profile apart again, from nothing but its times and speeds.
func (s *some) phases() []phase {
	ramp := func(change, whole, jerked float64) []phase {
		if whole == 0 {
			return nil
		}
		a := change / (whole - jerked)
		if jerked == 0 {
			return []phase{{whole, 0, a}}
		}
		return []phase{{jerked, a / jerked, 0}, {whole - 2*jerked, 0, a}, {jerked, -a / jerked, a}}
	}
	p := &s.p
	all := ramp(p.Peak-p.Start, p.Up, p.UpJerk)
	all = append(all, phase{p.Cruise, 0, 0})
	return append(all, ramp(p.End-p.Peak, p.Down, p.DownJerk)...)
}

// Integrating jerk, acceleration and speed step by step (classical Runge and
// Kutta, which is exact on cubics) gives back the distance and the last speed, and no
// limit is broken on the way.
func TestIntegrationGivesTheDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 2000 {
		s := random(r)
		x, v := 0.0, s.start
		for _, ph := range s.phases() {
			const steps = 8
			h := ph.seconds / steps
			for k := range steps {
				at := func(f float64) float64 { return ph.acceleration + ph.jerk*(float64(k)+f)*h }
				v1, v2 := v, v+h/2*at(0)
				v3, v4 := v+h/2*at(0.5), v+h*at(0.5)
				x += h / 6 * (v1 + 2*v2 + 2*v3 + v4)
				v += h / 6 * (at(0) + 4*at(0.5) + at(1))
				for _, a := range []float64{at(0), at(1)} {
					if most := s.limits.Acceleration; most > 0 && math.Abs(a) > most*(1+1e-9) {
						t.Fatalf("%+v: acceleration %g", s, a)
					}
				}
				if v > s.limits.Speed*(1+1e-9) || v < -1e-6 {
					t.Fatalf("%+v: speed %g", s, v)
				}
			}
			if most := s.limits.Jerk; most > 0 && math.Abs(ph.jerk) > most*(1+1e-6) {
				t.Fatalf("%+v: jerk %g", s, ph.jerk)
			}
		}
		near(t, "distance", x, s.distance, 1e-6*s.distance)
		near(t, "last speed", v, s.end, 1e-6*s.limits.Speed)
		if t.Failed() {
			t.Fatalf("%+v", s)
		}
	}
}

// Ways k times as long at k times the limits take as long.
func TestScaling(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2))
	for range 500 {
		s := random(r)
		k := 0.1 + 10*r.Float64()
		l := Limits{k * s.limits.Speed, k * s.limits.Acceleration, k * s.limits.Jerk}
		got := Between(k*s.distance, k*s.start, k*s.end, l).Seconds()
		near(t, "scaled", got, s.p.Seconds(), 1e-9*(1+got))
	}
}

// More speed, acceleration or jerk is never slower, a longer way never quicker.
func TestMonotone(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	for range 2000 {
		s := random(r)
		more := 1 + r.Float64()
		was := s.p.Seconds() * (1 + 1e-12)
		for name, l := range map[string]Limits{
			"speed":        {more * s.limits.Speed, s.limits.Acceleration, s.limits.Jerk},
			"acceleration": {s.limits.Speed, more * s.limits.Acceleration, s.limits.Jerk},
			"jerk":         {s.limits.Speed, s.limits.Acceleration, more * s.limits.Jerk},
		} {
			if now := Between(s.distance, s.start, s.end, l).Seconds(); now > was {
				t.Fatalf("%+v: more %s makes it %g instead of %g s", s, name, now, was)
			}
		}
		if now := Between(more*s.distance, s.start, s.end, s.limits).Seconds(); now*(1+1e-12) < s.p.Seconds() {
			t.Fatalf("%+v: longer, but %g instead of %g s", s, now, s.p.Seconds())
		}
	}
}

// With ever more jerk a double S becomes the trapezoid, from above.
func TestMuchJerkIsATrapezoid(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 4))
	for range 500 {
		s := random(r)
		if s.limits.Acceleration == 0 {
			continue
		}
		l := s.limits
		l.Jerk = 0
		want := Between(s.distance, 0, 0, l).Seconds()
		last := math.Inf(1)
		for _, j := range []float64{1e4, 1e6, 1e8, 1e11} {
			l.Jerk = j
			got := Between(s.distance, 0, 0, l).Seconds()
			if got < want-1e-9 || got > last+1e-9 {
				t.Fatalf("%+v: jerk %g gives %g s, wanted between %g and %g", s, j, got, want, last)
			}
			last = got
		}
		near(t, "jerk 1e11", last, want, 1e-4*(1+want))
	}
}

// A fly-by leaves one line and joins the other with their velocities, inside its
// radius, within acceleration and turn; looked at as a parabola, step by step.
func TestFlyByKeepsItsLimits(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 5))
	flyBys := 0
	for range 2000 {
		m := Machine{Acceleration: 500 + 4000*r.Float64()}
		a, b := randomLeg(r, m), randomLeg(r, m)
		c := m.cornerOf(&a, &b)
		p := c.passage()
		seconds := p.seconds
		if seconds == 0 {
			t.Fatalf("%+v %+v: no fly-by", a, b)
		}
		flyBys++
		if p.before > c.radius*(1+1e-12) || p.after > c.radius*(1+1e-12) || c.radius > a.flyBy {
			t.Fatalf("%+v reaches out of its radius", c)
		}
		from, to := a.unit.Scale(c.in()), b.unit.Scale(c.out())
		if got := to.Sub(from).Norm() / seconds; got > m.Acceleration*(1+1e-9) {
			t.Fatalf("%+v: acceleration %g, at most %g", c, got, m.Acceleration)
		}
		// The corner is the origin; constant acceleration from one touching point must
		// end at the other.
		end := a.unit.Scale(-p.before).Add(from.Add(to).Scale(seconds / 2))
		if end.Dist(b.unit.Scale(p.after)) > 1e-9*(1+c.radius) {
			t.Fatalf("%+v ends at %v", c, end)
		}
	}
	if flyBys == 0 {
		t.Fatal("no corner was flown by")
	}
}

func randomLeg(r *rand.Rand, m Machine) leg {
	for {
		unit, ok := geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
		if !ok {
			continue
		}
		l := leg{length: math.Pow(10, 3*r.Float64()), unit: unit, flyBy: 1 + 40*r.Float64()}
		if r.IntN(3) == 0 {
			l.turn = 180 * r.Float64()
		}
		l.limits = m.limitsOf(l.length, l.turn, 50+1000*r.Float64())
		return l
	}
}

// Flying by a corner is never slower than stopping there.
func TestFlyByIsNeverSlowerThanStopping(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 6))
	for n := range 2000 {
		m := Machine{Acceleration: 500 + 4000*r.Float64()}
		if n%2 == 1 {
			m.Jerk = 1e4 + 1e5*r.Float64()
		}
		if n%3 == 1 {
			m.TurnSpeed, m.TurnAcceleration = 30+300*r.Float64(), 200+2000*r.Float64()
		}
		legs := make([]leg, 2+r.IntN(4))
		for i := range legs {
			legs[i] = randomLeg(r, m)
		}
		flown := total(m, legs)
		for i := range legs {
			legs[i].flyBy = 0
		}
		if stopped := total(m, legs); flown > stopped*(1+1e-9) {
			t.Fatalf("%d: %+v: %g s flying by, %g s stopping\n%+v", n, m, flown, stopped, legs)
		}
	}
}

func total(m Machine, legs []leg) float64 {
	sum := 0.0
	r := run{machine: m, legs: legs}
	r.settle()
	for i := range legs {
		sum += legs[i].seconds
	}
	return sum
}

// Without an acceleration every leg takes its length by its speed, flown by or not.
func TestConstantSpeed(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 500 {
		legs := make([]leg, 1+r.IntN(5))
		want := 0.0
		for i := range legs {
			legs[i] = randomLeg(r, Machine{})
			want += legs[i].length / legs[i].limits.Speed
		}
		near(t, "whole", total(Machine{}, legs), want, 1e-9*want)
	}
}
