// Package balance chooses which places of a rotor to fill, or to empty, and in which
// order, so that it stays in balance. A rotor is in balance where the sum of mass times
// position about its axis is nothing: static balance, as textbooks of mechanics have it.
// It knows no grids and no parts: places are what they add to that sum, a moment.
package balance

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"gridferry/gen/geom"
)

// Moment is mass times position across the axis, in g·mm or any other unit.
type Moment struct{ X, Y float64 }

// Add is the sum of two moments.
func (m Moment) Add(n Moment) Moment { return Moment{m.X + n.X, m.Y + n.Y} }

// Sub is their difference.
func (m Moment) Sub(n Moment) Moment { return Moment{m.X - n.X, m.Y - n.Y} }

// Size is how far out of balance that is.
func (m Moment) Size() float64 { return math.Sqrt(float64(m.X*m.X) + float64(m.Y*m.Y)) } // math.Hypot may fuse

// Problem asks for some of several places.
type Problem struct {
	Start  Moment   // of what stands on the rotor
	Places []Moment // what each place adds when its turn comes
	Choose int      // how many of them
	Quick  bool     // only what lies at hand is tried
}

// Answer is the places in their order, and what they come to.
type Answer struct {
	Order []int   // by their numbers among the problem's
	End   Moment  // when all is done
	Worst float64 // the greatest size on the way, the end counted
	Least bool    // no other choice ends nearer to balance
	Work  int     // what the search has cost: sums looked at
}

// What is searched completely: all orders of all choices, and all choices.
const (
	AllOrders  = 16
	AllChoices = 36
)

// One is the greatest moment that a single place adds.
func (p *Problem) One() float64 {
	one := 0.0
	for _, m := range p.Places {
		one = max(one, m.Size())
	}
	return one
}

// grain tells sizes apart: so much of one part is nothing but rounding.
const grain = 1e-9

// in is a size in whole grains of one part.
func in(size, one float64) int64 { return int64(min(math.Round(size/(one*grain)), 1e18)) }

// Balanced reports whether a size is nothing but rounding of what one part adds.
func Balanced(size, one float64) bool { return in(size, one) == 0 }

// Solve finds the choice that ends nearest to balance; among those, one that is never
// farther out of balance than by one part, or as little as can be. Opposite places come
// one after the other, as people would fill it. Up to AllOrders places that is certain, up
// to AllChoices the end is; beyond that it is tried.
func (p *Problem) Solve() Answer {
	one := p.One()
	if one == 0 { // all of them stand in the axis
		one = 1
	}
	best := p.tried(one)
	good := func(a *Answer) bool { return Balanced(a.End.Size(), one) && in(a.Worst, one) <= in(one, one) }
	switch n := len(p.Places); {
	case good(&best):
		best.Least = true
	case p.Quick:
	case n <= AllOrders:
		work := best.Work
		best = p.allOrders(one)
		best.Work += work
	case n <= AllChoices:
		p.better(&best, one)
	}
	return best
}

// better looks at all choices.
func (p *Problem) better(best *Answer, one float64) {
	chosen, work := p.allChoices(one)
	best.Work += work
	best.Least = true
	again := p.ordered(chosen, one)
	if in(again.End.Size(), one) < in(best.End.Size(), one) {
		again.Work, again.Least = best.Work, true
		*best = again
	}
}

// tried is the best of some choices that lie at hand: always the place that leaves the
// least out of balance, after three, five or more places that stand evenly on a circle,
// where there are such, or after none.
func (p *Problem) tried(one float64) Answer {
	var best Answer
	work := 0
	for i, corners := range [...]int{0, 3, 5, 7, 11, 13} {
		first, ok := p.evenly(corners, one)
		if !ok {
			continue
		}
		more := p.besides(first, one)
		a := p.inOrder(append(more, first...))
		if in(a.Worst, one) > in(one, one) {
			a = p.ordered(a.Order, one)
		}
		work += (2*p.Choose + len(p.Places)) * len(p.Places)
		end, least := in(a.End.Size(), one), in(best.End.Size(), one)
		if i == 0 || end < least || end == least && in(a.Worst, one) < in(best.Worst, one) {
			best = a
		}
	}
	best.Work = work
	return best
}

// evenly is places that stand evenly on a circle about the axis.
func (p *Problem) evenly(corners int, one float64) ([]int, bool) {
	if corners == 0 {
		return nil, true
	}
	if corners > p.Choose {
		return nil, false
	}
	sin, cos := geom.SinCos(360 / float64(corners))
	for i := range p.Places {
		all, m := []int{i}, p.Places[i]
		for range corners - 1 {
			m = Moment{float64(m.X*cos) - float64(m.Y*sin), float64(m.X*sin) + float64(m.Y*cos)}
			k := slices.IndexFunc(p.Places, func(n Moment) bool { return Balanced(m.Sub(n).Size(), one) })
			if k < 0 {
				break
			}
			all = append(all, k)
		}
		if len(all) == corners {
			return all, true
		}
	}
	return nil, false
}

// besides is as many places as are missing beside some.
func (p *Problem) besides(chosen []int, one float64) []int {
	rest := make([]int, 0, len(p.Places))
	sum := p.Start
	for i, m := range p.Places {
		if slices.Contains(chosen, i) {
			sum = sum.Add(m)
		} else {
			rest = append(rest, i)
		}
	}
	return p.greedy(sum, rest, p.Choose-len(chosen), one)
}

// inOrder is what places come to in their order.
func (p *Problem) inOrder(order []int) Answer {
	a := Answer{Order: order, End: p.Start}
	for _, i := range order {
		a.End = a.End.Add(p.Places[i])
		a.Worst = max(a.Worst, a.End.Size())
	}
	return a
}

// greedy takes n places, each the one that leaves the least out of balance; of equals the
// first that has an opposite one still to come, or the first.
func (p *Problem) greedy(sum Moment, from []int, n int, one float64) (order []int) {
	opposite := p.opposites(from, one)
	rest := slices.Clone(from)
	for range n {
		best, least, single := 0, int64(math.MaxInt64), true
		for k, i := range rest {
			size := in(sum.Add(p.Places[i]).Size(), one)
			if size > least || size == least && !single {
				continue
			}
			if alone := !slices.Contains(rest, opposite[i]); size < least || !alone {
				best, least, single = k, size, alone
			}
		}
		sum = sum.Add(p.Places[rest[best]])
		order = append(order, rest[best])
		rest = slices.Delete(rest, best, best+1)
	}
	return order
}

// opposites is, for each of some places, the one among them that balances it; -1 for none.
func (p *Problem) opposites(among []int, one float64) map[int]int {
	opposite := make(map[int]int, len(among))
	for _, i := range among {
		opposite[i] = -1
		for _, k := range among {
			if Balanced(p.Places[i].Add(p.Places[k]).Size(), one) {
				opposite[i] = k
				break
			}
		}
	}
	return opposite
}

// ordered is a choice in its best order, as far as that is looked for.
func (p *Problem) ordered(chosen []int, one float64) Answer {
	slices.Sort(chosen)
	a := p.inOrder(p.greedy(p.Start, chosen, len(chosen), one))
	if in(a.Worst, one) <= in(one, one) || len(chosen) > AllOrders {
		return a
	}
	only := Problem{Start: p.Start, Choose: len(chosen)}
	for _, i := range chosen {
		only.Places = append(only.Places, p.Places[i])
	}
	all := only.allOrders(one)
	for k, i := range all.Order {
		a.Order[k] = chosen[i]
	}
	a.Worst = all.Worst
	return a
}

// outcome is what can still come of some places being filled, in grains.
type outcome struct{ end, worst int64 }

func (o outcome) less(p outcome) bool { return o.end < p.end || o.end == p.end && o.worst < p.worst }

// allOrders looks at every order of every choice: what can come of a set of places
// depends on the set alone, not on the order in which it was filled.
func (p *Problem) allOrders(one float64) Answer {
	n := len(p.Places)
	sums := make([]Moment, 1<<n)
	sums[0] = p.Start
	for set := 1; set < 1<<n; set++ {
		low := bits.TrailingZeros(uint(set))
		sums[set] = sums[set&(set-1)].Add(p.Places[low])
	}
	size := func(set int) int64 { return in(sums[set].Size(), one) }
	limit := in(one, one)
	can := make([]outcome, 1<<n)
	for set := 1<<n - 1; set >= 0; set-- {
		switch count := bits.OnesCount(uint(set)); {
		case count == p.Choose:
			can[set] = outcome{end: size(set), worst: limit}
		case count < p.Choose:
			can[set] = outcome{math.MaxInt64, math.MaxInt64}
			for i := range n {
				if next := set | 1<<i; next != set {
					if o := can[next].via(size(next), limit); o.less(can[set]) {
						can[set] = o
					}
				}
			}
		}
	}
	a := Answer{Least: true, Work: n << n, End: p.Start}
	for set := 0; len(a.Order) < p.Choose; {
		best := -1
		for i := range n {
			next := set | 1<<i
			if next == set || can[next].via(size(next), limit) != can[set] {
				continue
			}
			if best < 0 || size(next) < size(set|1<<best) {
				best = i
			}
		}
		set |= 1 << best
		a.Order = append(a.Order, best)
		a.End = sums[set]
		a.Worst = max(a.Worst, a.End.Size())
	}
	return a
}

// via is what comes of a set that is so far out of balance itself. Less than one part
// counts as one part.
func (o outcome) via(size, limit int64) outcome {
	return outcome{o.end, max(o.worst, size, limit)}
}

// half is the sums of all choices among some of the places, by how many were chosen.
type half [][]chosen

type chosen struct {
	sum Moment
	set uint32
}

func halfOf(places []Moment) half {
	sums := make([]Moment, 1<<len(places))
	all := make(half, len(places)+1)
	for set := range sums {
		if set > 0 {
			sums[set] = sums[set&(set-1)].Add(places[bits.TrailingZeros(uint(set))])
		}
		count := bits.OnesCount(uint(set))
		all[count] = append(all[count], chosen{sums[set], uint32(set)})
	}
	return all
}

// allChoices looks at every choice by its two halves: for each choice in the one, what
// stands nearest to the opposite in the other (Horowitz and Sahni, Computing partitions
// with applications to the knapsack problem, 1974; from memory).
func (p *Problem) allChoices(one float64) (best []int, work int) {
	middle := len(p.Places) / 2
	low, high := halfOf(p.Places[:middle]), halfOf(p.Places[middle:])
	for _, some := range high {
		slices.SortFunc(some, func(a, b chosen) int { return cmp.Or(cmp.Compare(a.sum.X, b.sum.X), cmp.Compare(a.set, b.set)) })
	}
	least := math.Inf(1)
	work = len(p.Places) << (len(p.Places) - middle) // to put them in order
	var found uint64
	for count, some := range low {
		if other := p.Choose - count; other >= 0 && other < len(high) {
			for _, a := range some {
				b, size, looks := nearest(high[other], p.Start.Add(a.sum), least)
				if work += looks; in(size, one) < in(least, one) || math.IsInf(least, 1) {
					least, found = size, uint64(a.set)|uint64(b)<<middle
				}
			}
		}
	}
	for i := range p.Places {
		if found>>i&1 == 1 {
			best = append(best, i)
		}
	}
	return best, work
}

// nearest is the choice, of those in the order of X, that brings a sum nearest to
// balance, if it comes nearer than so far.
func nearest(from []chosen, sum Moment, least float64) (set uint32, size float64, looks int) {
	size = least
	at, _ := slices.BinarySearchFunc(from, -sum.X, func(c chosen, x float64) int {
		if c.sum.X < x {
			return -1
		}
		return 1
	})
	try := func(k int) bool {
		looks++
		if math.Abs(from[k].sum.X+sum.X) > size {
			return false
		}
		if s := from[k].sum.Add(sum).Size(); s < size {
			set, size = from[k].set, s
		}
		return true
	}
	for k := at; k < len(from) && try(k); k++ {
	}
	for k := at - 1; k >= 0 && try(k); k-- {
	}
	return set, size, looks
}
