package route

import "math"

// Bound is a length that no way can fall below, the better of two, and what it has cost,
// as Answer.Work counts it. Best is the length of a known way.
func (p *Problem) Bound(best int64) (least int64, work int) {
	r := newRow(p)
	if r.n < 3 {
		return min(best, r.cost(identity(r.n))), r.work
	}
	return min(best, max(r.treeBound(best), r.pairBound())), r.work
}

// pairBound takes a way apart into the steps from each stop to the next one, and
// lets every stop pair itself again at the least cost, as if those steps did not
// have to make one way.
func (r *row) pairBound() int64 {
	if r.Period < 2 || r.n%r.Period != 0 || r.n/r.Period > mostAssigned {
		return math.MinInt64
	}
	beside := newBeside(r.Class)
	parts := r.n / r.Period
	sum := int64(0)
	for stop := range r.Period {
		_, total := Assign(parts, parts+1, func(i, k int) int64 { r.work++; return r.step(beside, stop, i, k) })
		sum += total
	}
	return sum
}

// never is more than any way costs, and few enough of it can be added up.
const never = 1 << 50

// step is what it costs part i's node of a stop to be come to from part k's node
// of the stop before; from the start where k is the number of parts, which only the
// first stop can be.
func (r *row) step(beside *beside, stop, i, k int) int64 {
	to := i*r.Period + stop
	if k == r.n/r.Period {
		if stop > 0 || r.Class[to] != r.Class[0] {
			return never
		}
		return r.link(-1, 0, int32(to))
	}
	from := k*r.Period + (stop+r.Period-1)%r.Period
	if !beside.may(from, to) {
		return never
	}
	return r.length[from*r.n+to]
}

// treeBound rests on trees: a way is one, and the cheapest tree is found quickly.
// Prices on the nodes, raised where the tree branches and lowered where it ends,
// drive it towards a way (M. Held and R. Karp, Operations Research 18, 1970,
// 1138-1162).
func (r *row) treeBound(best int64) int64 {
	b := bound{row: r, beside: newBeside(r.Class), price: make([]int64, r.n), degree: make([]int, r.n), near: make([]int64, r.n), from: make([]int, r.n), in: make([]bool, r.n)}
	rounds := min(mostRounds, boundWork/(r.n*r.n))
	top := int64(math.MinInt64)
	for k := range rounds {
		r.work += r.n * r.n
		tree := b.tree()
		top = max(top, tree)
		if top >= best || !b.raise(stepAt(k, rounds), best-tree) {
			break
		}
	}
	return top
}

// The search for prices is bounded in rounds, and in steps altogether.
const (
	mostRounds = 400
	boundWork  = 400_000_000
)

// stepAt is how far prices are moved in a round: from 2 down to 2/1024, in ten
// equal halvings over all rounds.
func stepAt(round, rounds int) float64 {
	step := 2.0
	for range 10 * round / rounds {
		step /= 2
	}
	return step
}

type bound struct {
	*row
	beside *beside
	price  []int64
	degree []int

	// the tree while it grows
	near []int64
	from []int
	in   []bool
}

// tree is the cheapest spanning tree of the nodes under their prices (R. Prim,
// 1957), closed by the cheapest way in and the cheapest way out, less twice all
// prices: a way's own length does not depend on them.
func (b *bound) tree() int64 {
	for i := range b.n {
		b.near[i], b.from[i], b.in[i], b.degree[i] = math.MaxInt64, none, false, 0
	}
	sum, next := int64(0), 0
	for range b.n {
		b.in[next] = true
		if b.from[next] != none {
			sum += b.near[next]
			b.degree[next]++
			b.degree[b.from[next]]++
		}
		next = b.grow(next)
	}
	sum += b.close()
	for _, price := range b.price {
		sum -= 2 * price
	}
	return sum
}

// grow looks along a node's edges and names the nearest node outside the tree.
func (b *bound) grow(node int) int {
	nearest := none
	may := b.beside.pairs[b.beside.number[node]]
	lengths := b.length[node*b.n : (node+1)*b.n]
	for i := range b.n {
		if b.in[i] {
			continue
		}
		if may[b.beside.number[i]] {
			if d := lengths[i] + b.price[node] + b.price[i]; d < b.near[i] {
				b.near[i], b.from[i] = d, node
			}
		}
		if nearest == none || b.near[i] < b.near[nearest] {
			nearest = i
		}
	}
	return nearest
}

// close adds the way to the first node and from the last one; those are two
// nodes even where both could be the same one.
func (b *bound) close() int64 {
	in := func(i int) int64 { return b.link(-1, 0, int32(i)) + b.price[i] }
	out := func(i int) int64 { return b.link(b.n-1, int32(i), 0) + b.price[i] }
	first, _ := b.cheapest(b.Class[0], in, none)
	last, _ := b.cheapest(b.Class[b.n-1], out, none)
	if first == last {
		other, otherIn := b.cheapest(b.Class[0], in, last)
		another, anotherOut := b.cheapest(b.Class[b.n-1], out, first)
		if otherIn+out(last) < in(first)+anotherOut {
			first = other
		} else {
			last = another
		}
	}
	b.degree[first]++
	b.degree[last]++
	return in(first) + out(last)
}

func (b *bound) cheapest(class int32, cost func(int) int64, but int) (int, int64) {
	best, least := none, int64(math.MaxInt64)
	for i, c := range b.Class {
		if c == class && i != but {
			if d := cost(i); d < least {
				best, least = i, d
			}
		}
	}
	return best, least
}

// raise changes the prices; false when the tree is a way already.
func (b *bound) raise(step float64, gap int64) bool {
	squares := 0
	for _, d := range b.degree {
		squares += (d - 2) * (d - 2)
	}
	if squares == 0 {
		return false
	}
	by := step * float64(gap) / float64(squares)
	for i, d := range b.degree {
		b.price[i] += int64(by * float64(d-2))
	}
	return true
}
