package route

import "slices"

// Solve finds a short way, or the shortest where that is within reach: where at
// most ExactLimit positions share their classes, or no two neighbouring ones do.
// It is never longer than node k at position k nor than any of the other ways to
// start from. A problem above Limit is not for Solve.
func (p *Problem) Solve(starts ...[]int) Answer {
	r := newRow(p)
	same := identity(r.n)
	switch alone, shared := r.sharing(); {
	case shared == 0:
		return r.answer(same, true)
	case alone:
		r.reassign(same, func(int) bool { return true })
		return r.answer(same, true)
	case shared <= ExactLimit:
		return r.answer(r.exact(), true)
	}
	return r.answer(r.find(starts), false)
}

// sharing counts the shared positions, and reports whether each stands alone
// between two that are not.
func (r *row) sharing() (alone bool, shared int) {
	alone = true
	for p, s := range r.shared {
		if s {
			shared++
			alone = alone && (p == 0 || !r.shared[p-1])
		}
	}
	return alone, shared
}

// reassign gives the chosen shared positions their nodes again, class by class,
// at the least cost. No two chosen ones may be neighbours.
func (r *row) reassign(path []int32, chosen func(position int) bool) {
	for _, class := range r.class {
		var positions []int
		var nodes []int32
		for _, p := range class {
			if chosen(int(p)) {
				positions = append(positions, int(p))
				nodes = append(nodes, path[p])
			}
		}
		costs := make([]int64, 0, len(positions)*len(nodes))
		for _, p := range positions {
			for _, node := range nodes {
				costs = append(costs, r.link(p-1, at(path, p-1), node)+r.link(p, node, at(path, p+1)))
			}
		}
		to, _ := Assign(len(positions), len(nodes), func(i, k int) int64 { r.work++; return costs[i*len(nodes)+k] })
		for i, p := range positions {
			path[p] = nodes[to[i]]
		}
	}
}

// What a search may spend, in changes looked at. It takes a second or so at the
// most, whatever the size.
const (
	spendFirst = 1_000_000 // on each way to start from
	spendThen  = 1_000_000 // on the best of them

	lengthsPerStep = 50 // that are looked at for a change
)

// mostAssigned is how many positions are given their nodes again in one go.
const mostAssigned = 256

// find improves several starts and then the best of them.
func (r *row) find(starts [][]int) []int32 {
	pattern, near := newPattern(r.Class, r.Period), r.near()
	ways := [][]int32{identity(r.n), r.greedy()}
	for _, start := range starts {
		ways = append(ways, narrow(start))
	}
	var best []int32
	for _, way := range ways {
		s := r.search(pattern, near, way, spendFirst)
		s.improve()
		r.work += lengthsPerStep * (spendFirst - s.steps)
		r.sweep(s.path)
		if best == nil || r.cost(s.path) < r.cost(best) {
			best = s.path
		}
	}
	s := r.search(pattern, near, best, spendThen)
	s.shakeOn()
	r.work += lengthsPerStep * (spendThen - s.steps)
	r.sweep(s.path)
	return s.path
}

// sweep gives every stop in turn its best nodes while the others stay, until
// nothing changes.
func (r *row) sweep(path []int32) {
	if r.Period < 2 || r.n/r.Period > mostAssigned {
		return
	}
	for cost := r.cost(path); ; {
		for stop := range r.Period {
			r.reassign(path, func(p int) bool { return p%r.Period == stop })
		}
		now := r.cost(path)
		if now >= cost {
			return
		}
		cost = now
	}
}

// greedy goes to the nearest node of the next class, again and again.
func (r *row) greedy() []int32 {
	path := identity(r.n)
	left := map[int32][]int32{}
	for p, c := range r.Class {
		left[c] = append(left[c], int32(p))
	}
	for p := range path {
		nodes := left[r.Class[p]]
		best := 0
		for k := range nodes {
			if r.link(p-1, at(path, p-1), nodes[k]) < r.link(p-1, at(path, p-1), nodes[best]) {
				best = k
			}
		}
		path[p] = nodes[best]
		left[r.Class[p]] = slices.Delete(nodes, best, best+1)
	}
	return path
}

func narrow(path []int) []int32 {
	out := make([]int32, len(path))
	for i, node := range path {
		out[i] = int32(node)
	}
	return out
}
