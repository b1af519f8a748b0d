package timing

import (
	"math"
	"math/rand/v2"
	"testing"
)

// halved is highest by halving, as fine as a float64 can show.
func halved(low, high float64, excess func(float64) float64) float64 {
	if high <= low || excess(high) <= 0 {
		return max(low, high)
	}
	for {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			return low
		}
		if excess(middle) <= 0 {
			low = middle
		} else {
			high = middle
		}
	}
}

func sameSpeed(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12*want) {
		t.Errorf("%s is %.17g, wanted %.17g", what, got, want)
	}
}

// Whatever the excess looks like, the search ends where halving ends, and soon.
func TestSearchEndsWhereHalvingEnds(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	most, all, rounds := 0, 0, 5000
	for range rounds {
		root, high := math.Pow(10, 6*r.Float64()-3), math.Pow(10, 6*r.Float64()-3)
		power := math.Pow(10, 2*r.Float64()-1)
		looks := 0
		excess := func(v float64) float64 {
			looks++
			return math.Pow(v, power) - math.Pow(root, power)
		}
		got := highest(0, high, excess)
		most, all = max(most, looks), all+looks
		sameSpeed(t, "the root", got, halved(0, high, excess))
	}
	if most > mostLooks || all > 25*rounds {
		t.Errorf("it takes up to %d looks and %d on average", most, all/rounds)
	}
	for name, excess := range map[string]func(float64) float64{
		"a step":       func(v float64) float64 { return math.Copysign(1, v-0.3) },
		"a slope":      func(v float64) float64 { return max(0, v-0.3) },
		"a wall":       func(v float64) float64 { return math.Exp(1000*(v-0.3)) - 1 },
		"no end of it": func(v float64) float64 { return 1/(0.4-min(v, 0.4)) - 10 },
	} {
		sameSpeed(t, name, highest(0, 1, excess), halved(0, 1, excess))
	}
	if got := highest(2, 1, nil); got != 2 {
		t.Errorf("from 2 to 1 the highest is %g, wanted 2", got)
	}
}

// The formulas for a limit on the acceleration alone give what the search gives.
func TestFormulasAgreeWithTheSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	for range 5000 {
		l := Limits{Speed: 1 + 1000*r.Float64(), Acceleration: 10 + 5000*r.Float64()}
		start, end := l.Speed*r.Float64(), l.Speed*r.Float64()
		distance := l.way(start, end) + math.Pow(10, 4*r.Float64()-1)
		excess := func(v float64) float64 { return l.way(start, v) + l.way(v, end) - distance }
		sameSpeed(t, "the peak", Between(distance, start, end, l).Peak, halved(max(start, end), l.Speed, excess))
		sameSpeed(t, "the reach", l.reach(distance, start), halved(start, l.Speed, func(v float64) float64 { return l.way(start, v) - distance }))

		m := Machine{Acceleration: l.Acceleration}
		a, b := randomLeg(r, m), randomLeg(r, m)
		switch r.IntN(10) {
		case 0:
			b.unit = a.unit // straight on
		case 1:
			b.unit = a.unit.Scale(-1) // back
		case 2:
			b.limits.Speed = a.limits.Speed
		}
		c := m.cornerOf(&a, &b)
		sameSpeed(t, "the corner", c.ceiling, c.searched(m, &a, &b))
	}
}
