package timing

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.9g, wanted %.9g within %g", what, got, want, within)
	}
}

// Trapezoids and triangles from rest to rest. T = h/v + v/a where h ≥ v²/a, else
// 2·√(h/a): Lynch & Park, Modern Robotics, 9.2.2.2, and Biagiotti & Melchiorri,
// Trajectory Planning for Automatic Machines and Robots, ch. 3 (formulas from memory).
func TestTrapezoids(t *testing.T) {
	for _, c := range []struct {
		source               string
		h, v, a              float64
		up, cruise, all, top float64
	}{
		{"Biagiotti & Melchiorri ch. 3, from memory, recomputed", 30, 10, 10, 1, 2, 4, 10},
		{"constructed, exact", 100, 50, 100, 0.5, 1.5, 2.5, 50},
		{"constructed, exact", 1, 1, 2, 0.5, 0.5, 1.5, 1},
		{"constructed: a triangle", 20, 50, 100, 0.4472136, 0, 0.8944272, 44.7213595},
		{"constructed: the limit case h = v²/a", 1, 0.5, 0.25, 2, 0, 4, 0.5},
		// Siciliano et al., Robotics: Modelling, Planning and Control, 4.2.1: q from 0
		// to π in 1 s at 6π (from memory); the cruise speed is what that comes to.
		{"Siciliano et al. 4.2.1", math.Pi, 3.9833799, 6 * math.Pi, 0.2113249, 0.5773503, 1, 3.9833799},
		// The same book, problem 4.7 (read in an open copy): √2 units in 2 s, cruising
		// at 1; fly-by and acceleration recomputed.
		{"Siciliano et al. problem 4.7", math.Sqrt2, 1, 1.707107, 0.585786, 2 - 2*0.585786, 2, 1},
	} {
		p := Between(c.h, 0, 0, Limits{Speed: c.v, Acceleration: c.a})
		near(t, c.source+": up", p.Up, c.up, 1e-6)
		near(t, c.source+": down", p.Down, c.up, 1e-6)
		near(t, c.source+": cruise", p.Cruise, c.cruise, 1e-6)
		near(t, c.source+": whole", p.Seconds(), c.all, 1e-6)
		near(t, c.source+": peak", p.Peak, c.top, 1e-6)
	}
}

// The double S with speeds at its ends: Biagiotti & Melchiorri 2008, 3.4,
// examples 3.9 to 3.12 (remembered inputs, figures recomputed with the book's
// algorithm). In 3.11 and 3.12 the peak speed is out of reach; the book then lowers
// the acceleration of both ramps by hundredths until they fit. With the acceleration
// it arrives at (10·0.99³⁶, and 30 times the jerk time) the figures are the same;
// with 10 ours must not be slower.
func TestDoubleSExamples(t *testing.T) {
	lowered := 10 * math.Pow(0.99, 36)
	for _, c := range []struct {
		name                string
		start, top, a       float64
		up, cruise, down    float64
		upJerk, downJerk    float64
		whole, peak, inBook float64 // inBook: with the full acceleration; 0 for the same
		within              float64
	}{
		{"example 3.9", 1, 5, 10, 0.733333, 1.143333, 0.833333, 0.333333, 0.333333, 2.71, 5, 0, 1e-5},
		{"example 3.10", 1, 10, 10, 1.074690, 0, 1.174690, 0.333333, 0.333333, 2.249380, 8.413567, 0, 1e-5},
		{"example 3.11", 7, 10, lowered, 0.4666, 0, 1.4718, 0.2321, 0.2321, 1.9384, 8.6329, 1.9384, 1e-4},
		{"example 3.12", 7.5, 10, 30 * 0.0973, 0, 0, 2.666667, 0, 0.0973, 2.666667, 7.5, 2.666667, 1e-4},
		{"from rest to rest", 0, 5, 10, 0.833333, 1.166667, 0.833333, 0.333333, 0.333333, 2.833333, 5, 0, 1e-5},
	} {
		l := Limits{Speed: c.top, Acceleration: c.a, Jerk: 30}
		p := Between(10, c.start, 0, l)
		near(t, c.name+": up", p.Up, c.up, c.within)
		near(t, c.name+": cruise", p.Cruise, c.cruise, c.within)
		near(t, c.name+": down", p.Down, c.down, c.within)
		near(t, c.name+": up, jerk", p.UpJerk, c.upJerk, c.within)
		near(t, c.name+": down, jerk", p.DownJerk, c.downJerk, c.within)
		near(t, c.name+": whole", p.Seconds(), c.whole, c.within)
		near(t, c.name+": peak", p.Peak, c.peak, c.within)
		l.Acceleration = 10
		if s := Between(10, c.start, 0, l).Seconds(); c.inBook > 0 && s > c.inBook {
			t.Errorf("%s: %.6f s with the full acceleration, slower than the book's %.6f", c.name, s, c.inBook)
		}
	}
}

// T = h/v + v/a + a/j where speed and acceleration are both reached, and
// T = 4·∛(h/2j) where only the jerk limits (closed forms, recomputed).
func TestDoubleSClosedForms(t *testing.T) {
	near(t, "10 at 5, 10, 30", Between(10, 0, 0, Limits{5, 10, 30}).Seconds(), 10/5.0+5/10.0+10/30.0, 1e-12)
	near(t, "100 at 50, 100, 500", Between(100, 0, 0, Limits{50, 100, 500}).Seconds(), 2.7, 1e-12)
	near(t, "1 at jerk 32", Between(1, 0, 0, Limits{1e6, 0, 32}).Seconds(), 1, 1e-9)
	near(t, "1 at jerk 32, acceleration out of reach", Between(1, 0, 0, Limits{1e6, 1e6, 32}).Seconds(), 1, 1e-9)
}

// Two axes on one time law: 100 and 20 long, both 50 and 100 at most. The longer
// one rules, and the other is scaled (constructed; NISTIR 6556, 2.1.2.4, defines
// coordinated motion as all axes having completed the same fraction at all times).
func TestSynchronisedAxes(t *testing.T) {
	m := Machine{Acceleration: 100, TurnSpeed: 50, TurnAcceleration: 100}
	l := m.limitsOf(100, 20, 50)
	p := Between(100, 0, 0, l)
	near(t, "whole", p.Seconds(), 2.5, 1e-12)
	near(t, "the turn's peak", p.Peak*20/100, 10, 1e-12)
	near(t, "the turn's acceleration", l.Acceleration*20/100, 20, 1e-12)
	// The other way round the turn rules, on the same time law.
	near(t, "whole, turn rules", Between(20, 0, 0, m.limitsOf(20, 100, 50)).Seconds(), 2.5, 1e-12)
}

// Feed with rotary axes, NISTIR 6556 (NIST, 2000), 2.1.2.5, read in full: the
// feed is that of the line and a turn rides along; a turn alone has a feed of its
// own. X100 with A90 at F600 takes 10 s; 50° (30 and 40 about two axes) at F100 take 30 s.
func TestFeedWithRotaryAxes(t *testing.T) {
	near(t, "X100 A90 F600", Between(100, 0, 0, Machine{}.limitsOf(100, 90, 600/60.0)).Seconds(), 10, 1e-12)
	alone := Machine{TurnSpeed: 100 / 60.0}.limitsOf(0, math.Hypot(30, 40), 1)
	near(t, "A30 B40 F100", Between(50, 0, 0, alone).Seconds(), 30, 1e-9)
}
