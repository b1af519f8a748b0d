package layout

import (
	"gridferry/gen/move"
	"gridferry/gen/route"
	"gridferry/gen/slot"
	"gridferry/gen/timing"
)

// round is the stops that one part goes through before the next part starts:
// two where an entry advances by legs, all of a chain where it advances by parts.
// It is what the slots of a leg, or of several, can be put in another order for.
type round struct {
	stops []roundStop
	parts int
	gauge *gauge
	start *move.Point // where the arm comes from, above the last slot before; nil where that is not known
}

type roundStop struct {
	grid     *Grid
	figures  *Figures
	slots    []slot.Slot // by part
	free     bool        // may be visited in another order
	topFirst bool        // its layers go from the top one down
}

// above is where the arm comes to and leaves from, at a stop with a part.
func (r *round) above(stop, part int) timing.Stand {
	s := &r.stops[stop]
	_, base := s.figures.Above(s.grid, s.slots[part])
	return r.gauge.stand(&base)
}

// problem is the round as a row of positions: part after part, stop after stop.
// Slots of one stop and one layer may change places; so layers keep their order, and
// no part is put before the one below it or taken after it.
func (r *round) problem() *route.Problem {
	n := r.parts * len(r.stops)
	at := make([]timing.Stand, n)
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
	p.Cost = func(a, b int) int64 {
		from, to := a%len(r.stops), b%len(r.stops)
		return r.gauge.way(&at[a], ways[to], &at[b], r.paces(from, to))
	}
	if r.start != nil {
		start, first := r.gauge.stand(r.start), r.first()
		p.First = func(a int) int64 { return r.gauge.way(&start, first, &at[a], r.coming()) }
	}
	return p
}

// paces are the speeds between two stops: with a part to the later one, without one back.
func (r *round) paces(from, to int) paces {
	return paces{r.stops[max(from, to)].figures.Speed(true), r.stops[min(from, to)].figures.Speed(false)}
}

// coming is the speed to the first stop from wherever the arm comes from.
func (r *round) coming() paces {
	v := r.stops[0].figures.Speed(false)
	return paces{v, v}
}

// ways is the poses on the way to each stop from the one before it.
func (r *round) ways() [][]timing.Stand {
	ways := make([][]timing.Stand, len(r.stops))
	before := &r.stops[len(r.stops)-1]
	for i := range r.stops {
		s := &r.stops[i]
		ways[i], before = r.gauge.over(passed(before.figures, before.grid, s.figures, s.grid)), s
	}
	return ways
}

// first is the poses on the way to the first stop from wherever the arm comes from.
func (r *round) first() []timing.Stand {
	return r.gauge.over(passed(nil, nil, r.stops[0].figures, r.stops[0].grid))
}

// length is what the ways between slots weigh, as the gauge counts.
func (r *round) length() int64 {
	sum, ways := int64(0), r.ways()
	var from timing.Stand
	for part := range r.parts {
		for stop := range r.stops {
			to := r.above(stop, part)
			switch before := (stop + len(ways) - 1) % len(ways); {
			case part > 0 || stop > 0:
				sum += r.gauge.way(&from, ways[stop], &to, r.paces(before, stop))
			case r.start != nil:
				start := r.gauge.stand(r.start)
				sum += r.gauge.way(&start, r.first(), &to, r.coming())
			}
			from = to
		}
	}
	return sum
}

// shorten puts the free stops into the order of the shortest way that is found, or of the quickest, which is
// never slower than that.
func (r *round) shorten() route.Answer {
	r.sort(ByRow) // layers first, whatever order the slots were written in
	starts, work := r.starts(), 0
	if r.gauge.by == ByTime {
		byLength := *r
		byLength.gauge = &gauge{tool: r.gauge.tool}
		shortest := byLength.problem().Solve(starts...)
		starts, work = append(starts, shortest.Path), shortest.Work
	}
	found := r.problem().Solve(starts...)
	found.Work += work
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
