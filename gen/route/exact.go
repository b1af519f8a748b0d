package route

import (
	"math"
	"math/bits"
)

// ExactLimit is how many positions may share their classes for the shortest way
// of all to be found.
const ExactLimit = 16

// exact is the shortest way of all, by dynamic programming over the set of nodes
// that were visited and the last one of them (M. Held and R. Karp, J. SIAM 10(1),
// 1962, 196-210). Only positions that share their class count.
type exact struct {
	*row
	free []int   // the shared positions
	best []int64 // by set and last node; MaxInt64 where there is no such way
}

func (r *row) exact() []int32 {
	e := &exact{row: r}
	for p, s := range r.shared {
		if s {
			e.free = append(e.free, p)
		}
	}
	k := len(e.free)
	e.best = make([]int64, k<<k)
	r.work += k * k << k
	for i := range e.best {
		e.best[i] = math.MaxInt64
	}
	for set := 1; set < 1<<k; set++ {
		e.fill(set)
	}
	return e.trace()
}

// fill works out the ways that visit a set and end at each of its nodes.
func (e *exact) fill(set int) {
	k := len(e.free)
	stage := bits.OnesCount(uint(set)) - 1
	for last := range k {
		if set>>last&1 == 0 || e.Class[e.free[last]] != e.Class[e.free[stage]] {
			continue
		}
		rest := set &^ (1 << last)
		if stage == 0 {
			e.best[set*k+last] = e.stretch(none, stage, 0, int32(e.free[last]))
			continue
		}
		for before := range k {
			if was := e.best[rest*k+before]; rest>>before&1 == 1 && was != math.MaxInt64 {
				now := was + e.stretch(stage-1, stage, int32(e.free[before]), int32(e.free[last]))
				e.best[set*k+last] = min(e.best[set*k+last], now)
			}
		}
	}
}

// stretch is the cost from node a at one shared position to node b at the next
// one, through the fixed nodes between them. Stage none is before the first
// position; stage len(free) behind the last.
func (e *exact) stretch(from, to int, a, b int32) int64 {
	p, end := -1, e.n
	if from != none {
		p = e.free[from]
	}
	if to < len(e.free) {
		end = e.free[to]
	}
	sum := int64(0)
	for ; p < end; p++ {
		next := int32(p + 1)
		if p+1 == end {
			next = b
		}
		sum += e.link(p, a, next)
		a = next
	}
	return sum
}

// trace goes back from the end over the choices that made the best cost.
func (e *exact) trace() []int32 {
	k := len(e.free)
	path := identity(e.n)
	set, last := 1<<k-1, none
	least := int64(math.MaxInt64)
	for node := range k {
		if was := e.best[set*k+node]; was != math.MaxInt64 {
			if total := was + e.stretch(k-1, k, int32(e.free[node]), 0); total < least {
				least, last = total, node
			}
		}
	}
	for stage := k - 1; ; stage-- {
		path[e.free[stage]] = int32(e.free[last])
		if stage == 0 {
			return path
		}
		set, last = e.before(set, last, stage)
	}
}

func (e *exact) before(set, last, stage int) (int, int) {
	k := len(e.free)
	rest := set &^ (1 << last)
	for node := range k {
		was := e.best[rest*k+node]
		if rest>>node&1 == 1 && was != math.MaxInt64 &&
			was+e.stretch(stage-1, stage, int32(e.free[node]), int32(e.free[last])) == e.best[set*k+last] {
			return rest, node
		}
	}
	panic("route: a way without a beginning")
}
