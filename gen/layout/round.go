package layout

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/route"
	"gridferry/gen/slot"
)

// round is the stops that one part goes through before the next part starts:
// two where an entry advances by legs, all of a chain where it advances by parts.
// It is what the slots of a leg, or of several, can be put in another order for.
type round struct {
	stops []roundStop
	parts int
	start geom.Vec // where the arm comes from, above the last slot before
	begun bool     // that is known
}

type roundStop struct {
	grid     *Grid
	figures  *Figures
	slots    []slot.Slot // by part
	free     bool        // may be visited in another order
	topFirst bool        // its layers go from the top one down
}

// above is where the arm comes to and leaves from, at a stop with a part.
func (r *round) above(stop, part int) geom.Vec {
	s := &r.stops[stop]
	_, base := s.figures.Above(s.grid, s.slots[part])
	return base.Vec
}

// problem is the round as a row of positions: part after part, stop after stop.
// Slots of one stop and one layer may change places; so layers keep their order, and
// no part is put before the one below it or taken after it.
func (r *round) problem() *route.Problem {
	n := r.parts * len(r.stops)
	at := make([]geom.Vec, n)
	p := &route.Problem{Class: make([]int32, n), Period: len(r.stops)}
	for k := range n {
		stop, part := k%len(r.stops), k/len(r.stops)
		at[k] = r.above(stop, part)
		p.Class[k] = int32(k) // a class of its own
		if s := &r.stops[stop]; s.free {
			p.Class[k] = -1 - s.slots[part].Layer*int32(len(r.stops)) - int32(stop)
		}
	}
	ways := r.ways()
	p.Cost = func(a, b int) int64 { return over(at[a], ways[b%len(r.stops)], r.tool(), at[b]) }
	if r.begun {
		first := r.first()
		p.First = func(a int) int64 { return over(r.start, first, r.tool(), at[a]) }
	}
	return p
}

// ways is the poses on the way to each stop from the one before it.
func (r *round) ways() [][]*NamedPose {
	ways := make([][]*NamedPose, len(r.stops))
	before := &r.stops[len(r.stops)-1]
	for i := range r.stops {
		s := &r.stops[i]
		ways[i], before = passed(before.figures, before.grid, s.figures, s.grid), s
	}
	return ways
}

// first is the poses on the way to the first stop from wherever the arm comes from.
func (r *round) first() []*NamedPose { return passed(nil, nil, r.stops[0].figures, r.stops[0].grid) }

// tool is the one that goes through the round: an entry has one.
func (r *round) tool() *Tool { return r.stops[0].figures.Tool }

// over is the length of a tool's way over some poses, in whole thousandths of a millimetre.
func over(from geom.Vec, poses []*NamedPose, by *Tool, to geom.Vec) int64 {
	sum := int64(0)
	for _, p := range poses {
		at := p.Base(by).Vec
		sum += apart(from, at)
		from = at
	}
	return sum + apart(from, to)
}

// apart is the distance in whole thousandths of a millimetre, so that sums are
// exact and orders can be compared.
func apart(a, b geom.Vec) int64 { return int64(math.Round(a.Dist(b) * 1000)) }

// length is how far the arm travels between slots, in thousandths of a
// millimetre.
func (r *round) length() int64 {
	sum, from, known := int64(0), r.start, r.begun
	ways, way := r.ways(), r.first()
	for part := range r.parts {
		for stop := range r.stops {
			to := r.above(stop, part)
			if known {
				sum += over(from, way, r.tool(), to)
			}
			from, way, known = to, ways[(stop+1)%len(ways)], true
		}
	}
	return sum
}

// shorten puts the free stops into the order of the shortest way that is found.
func (r *round) shorten() route.Answer {
	r.sort(ByRow) // layers first, whatever order the slots were written in
	found := r.problem().Solve(r.starts()...)
	r.arrange(found.Path)
	return found
}

// arrange puts the slots where a path over the round's positions has them.
func (r *round) arrange(path []int) {
	sorted := make([][]slot.Slot, len(r.stops))
	for i := range r.stops {
		sorted[i] = append([]slot.Slot(nil), r.stops[i].slots...)
	}
	for k, node := range path {
		stop := k % len(r.stops)
		r.stops[stop].slots[k/len(r.stops)] = sorted[stop][node/len(r.stops)]
	}
}

// starts are the orders that people would write, as paths over the positions as
// they are now, so that none of them is shorter than what is found.
func (r *round) starts() [][]int {
	var all [][]int
	for _, o := range []Order{ByColumn, Serpentine} {
		path := make([]int, r.parts*len(r.stops))
		for i := range r.stops {
			for part, was := range r.stops[i].sorting(o) {
				path[part*len(r.stops)+i] = was*len(r.stops) + i
			}
		}
		all = append(all, path)
	}
	return all
}

// sort puts every free stop in an order of its grid.
func (r *round) sort(o Order) {
	for i := range r.stops {
		s := &r.stops[i]
		was := append([]slot.Slot(nil), s.slots...)
		for part, k := range s.sorting(o) {
			s.slots[part] = was[k]
		}
	}
}
