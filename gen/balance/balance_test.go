package balance_test

import (
	"fmt"
	"math"
	"math/bits"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"gridferry/gen/balance"
)

// circle is n places on a circle: r times the n-th roots of unity (textbook).
func circle(n int, r float64) []balance.Moment {
	var all []balance.Moment
	for k := range n {
		m := cmplx.Rect(r, 2*math.Pi*float64(k)/float64(n))
		all = append(all, balance.Moment{X: real(m), Y: imag(m)})
	}
	return all
}

const little = 1e-6 // of one part: more than rounding, less than any real difference here

// brute is the least that any n places can end at, and, among those, the least that the
// rotor is out of balance on the way by at least one part's: over all orders of all fillings,
// set by set.
func brute(p *balance.Problem) (end, worst float64) {
	one := p.One()
	size := func(set int) float64 {
		sum := complex(p.Start.X, p.Start.Y)
		for i, m := range p.Places {
			if set>>i&1 == 1 {
				sum += complex(m.X, m.Y)
			}
		}
		return cmplx.Abs(sum)
	}
	reach := make([]float64, 1<<len(p.Places)) // the least worst on any way to a set
	end, worst = math.Inf(1), math.Inf(1)
	for set := range reach {
		if set > 0 {
			before := math.Inf(1)
			for i := range p.Places {
				if set>>i&1 == 1 {
					before = min(before, reach[set&^(1<<i)])
				}
			}
			reach[set] = max(before, size(set))
		}
		if bits.OnesCount(uint(set)) != p.Choose {
			continue
		}
		switch s := size(set); {
		case s < end-little*one:
			end, worst = s, max(one, reach[set])
		case s < end+little*one:
			worst = min(worst, max(one, reach[set]))
		}
	}
	return end, worst
}

// told is what an answer really comes to.
func told(t *testing.T, name string, p *balance.Problem, a *balance.Answer) (end, worst float64) {
	t.Helper()
	sum, seen := complex(p.Start.X, p.Start.Y), map[int]bool{}
	for _, i := range a.Order {
		if seen[i] {
			t.Errorf("%s: place %d is chosen twice", name, i)
		}
		seen[i] = true
		sum += complex(p.Places[i].X, p.Places[i].Y)
		worst = max(worst, cmplx.Abs(sum))
	}
	if len(a.Order) != p.Choose {
		t.Errorf("%s: %d places are chosen, wanted %d", name, len(a.Order), p.Choose)
	}
	if end = cmplx.Abs(sum); math.Abs(end-a.End.Size()) > little || math.Abs(worst-a.Worst) > little {
		t.Errorf("%s: it comes to %g, at worst %g, but is told to come to %g and %g", name, end, worst, a.End.Size(), a.Worst)
	}
	return end, worst
}

func holdToBrute(t *testing.T, name string, p *balance.Problem) {
	t.Helper()
	a := p.Solve()
	end, worst := told(t, name, p, &a)
	wantEnd, wantWorst := brute(p)
	one := p.One()
	if math.Abs(end-wantEnd) > little*one || max(worst, one) > wantWorst+little*one || !a.Least {
		t.Errorf("%s: ends at %g, at worst %g, least: %v; all fillings: %g and %g (%v)", name, end, worst, a.Least, wantEnd, wantWorst, a.Order)
	}
}

// Rings of up to 12 places, every number of parts: against all orders of all fillings.
func TestRingsAgainstAllFillings(t *testing.T) {
	for n := 1; n <= 12; n++ {
		for choose := 0; choose <= n; choose++ {
			p := balance.Problem{Places: circle(n, 80), Choose: choose}
			holdToBrute(t, fmt.Sprintf("%d in %d", choose, n), &p)
		}
	}
}

// The same where something stands there already, of another mass, where places are
// missing, and where there are two circles.
func TestAnyPlacesAgainstAllFillings(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	rounds := 300
	if testing.Short() {
		rounds = 60
	}
	for round := range rounds {
		places := circle(2+random.IntN(11), 80)
		if round%3 == 0 {
			places = append(circle(2+random.IntN(4), 50), circle(3+random.IntN(5), 80)...)
		}
		p := balance.Problem{}
		for _, m := range places {
			switch random.IntN(5) {
			case 0:
				p.Start = p.Start.Add(m)
			case 1: // missing, or filled with something heavier
				if round%2 == 0 {
					p.Start = p.Start.Add(balance.Moment{X: 1.5 * m.X, Y: 1.5 * m.Y})
				}
			default:
				p.Places = append(p.Places, m)
			}
		}
		p.Choose = random.IntN(len(p.Places) + 1)
		holdToBrute(t, fmt.Sprintf("round %d: %d of %v from %v", round, p.Choose, p.Places, p.Start), &p)
	}
}

// k of n places can be in balance if, and only if, both k and n-k are sums of primes that
// divide n (G. Sivek, On vanishing sums of distinct roots of unity, Integers 10, 2010; from
// memory). On the way it is never out by more than one part.
func TestRingsAgainstSivek(t *testing.T) {
	most := 26
	if testing.Short() {
		most = 18
	}
	for n := 2; n <= most; n++ {
		sums := sumsOfPrimes(n)
		for k := 0; k <= n; k++ {
			name := fmt.Sprintf("%d in %d", k, n)
			p := balance.Problem{Places: circle(n, 1), Choose: k}
			a := p.Solve()
			end, worst := told(t, name, &p, &a)
			if can := sums[k] && sums[n-k]; can != (end < little) || !a.Least {
				t.Errorf("%s: ends at %g, least: %v; it can be in balance: %v", name, end, a.Least, can)
			} else if can && worst > 1+little {
				t.Errorf("%s: %g out of balance on the way", name, worst)
			}
		}
	}
}

func sumsOfPrimes(n int) []bool {
	sums := make([]bool, n+1)
	sums[0] = true
	for p := 2; p <= n; p++ {
		prime := n%p == 0
		for d := 2; d < p; d++ {
			prime = prime && p%d != 0
		}
		for k := p; prime && k <= n; k++ {
			sums[k] = sums[k] || sums[k-p]
		}
	}
	return sums
}

// Parts come in opposite pairs, from the first place on.
func TestOppositePairs(t *testing.T) {
	p := balance.Problem{Places: circle(24, 80), Choose: 24}
	a := p.Solve()
	var want []int
	for k := range 12 {
		want = append(want, k, k+12)
	}
	if !slices.Equal(a.Order, want) {
		t.Errorf("got %v, wanted %v", a.Order, want)
	}
	p.Choose = 3
	if a := p.Solve(); !slices.Equal(a.Order, []int{0, 8, 16}) {
		t.Errorf("three parts: got %v", a.Order)
	}
	p.Choose = 17
	if a := p.Solve(); !slices.Equal(a.Order, []int{1, 13, 2, 14, 3, 15, 5, 17, 6, 18, 7, 19, 9, 21, 0, 8, 16}) {
		t.Errorf("seventeen parts: got %v", a.Order)
	}
}

// Many places are filled in pairs too, and what cannot be searched is not told to be the
// least.
func TestManyPlaces(t *testing.T) {
	p := balance.Problem{Places: circle(120, 80), Choose: 50}
	if a := p.Solve(); a.End.Size() > little || a.Worst > 80+little {
		t.Errorf("50 of 120: ends at %g, at worst %g", a.End.Size(), a.Worst)
	}
	p = balance.Problem{Places: circle(41, 80), Choose: 7}
	a := p.Solve()
	if end, _ := told(t, "7 of 41", &p, &a); a.Least || end > 80 {
		t.Errorf("7 of 41: ends at %g, least: %v", end, a.Least)
	}
}

func TestPlacesInTheAxis(t *testing.T) {
	p := balance.Problem{Places: make([]balance.Moment, 3), Choose: 2}
	if a := p.Solve(); !slices.Equal(a.Order, []int{0, 1}) || a.End.Size() != 0 {
		t.Errorf("got %+v", a)
	}
}

func BenchmarkAllChoices(b *testing.B) {
	places := circle(37, 80)[1:]
	p := balance.Problem{Places: places, Start: places[4], Choose: 11}
	for b.Loop() {
		p.Solve()
	}
}
