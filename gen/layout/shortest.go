package layout

import (
	"slices"

	"gridferry/gen/move"
	"gridferry/gen/route"
	"gridferry/gen/slot"
	"gridferry/gen/timing"
)

// Travel is how far an entry's parts and the arm without one travel between
// slots, or how long: from approach point to approach point, without the straight lines down
// and up, which are the same in every order.
type Travel struct {
	Length float64 // mm, or ms
	Least  float64 // likewise; no order of the same slots has less. 0 where not asked for
	Exact  bool    // Length is the least
	Work   int     // what the search has cost, as package route counts it
}

// MostWork is what the searches of a plan may cost before an entry is left by row: some
// seconds. Three entries of the largest size need it, or a dozen in which sixteen slots
// change places.
const MostWork = 200_000_000

// Kept says why an entry's order is left as it is.
type Kept string

const (
	NotKept      Kept = ""
	ByClear      Kept = "clear"        // every way leads over the clear pose, or over others
	ByOwnSlots   Kept = "own-slots"    // it fills slots that it takes from, or layers of one grid
	ByNumber     Kept = "number"       // there are too many parts
	ByWork       Kept = "work"         // the entries before it have cost too much; see MostWork
	BySequence   Kept = "sequence"     // boxes are put down and taken in one order only
	ByNoFreeSide Kept = "no-free-side" // fewer than two parts
	ByList       Kept = "list"         // the lines of a worklist are its order
	ByGroups     Kept = "groups"       // which parts are carried at once follows from it
	ByBalance    Kept = "balance"      // it keeps a rotor in balance
)

// MostShortened is how many slots an entry goes through at most for its order
// to be searched for: parts times stops.
const MostShortened = route.Limit

// Keeps says why an entry keeps its order; NotKept where it does not. Work is what the searches
// for the entries before it have cost.
func (l *Layout) Keeps(e *Entry, work int) Kept {
	switch {
	case e.Parts < 2:
		return ByNoFreeSide
	case e.Listed != nil:
		return ByList
	case e.AtOnce > 1:
		return ByGroups
	case e.keepsSequence():
		return BySequence
	case e.balanced:
		return ByBalance
	case l.OnEveryWay(e) != nil:
		return ByClear
	case e.reusesSlots():
		return ByOwnSlots
	case e.Parts*e.perRound() > MostShortened:
		return ByNumber
	case work > MostWork:
		return ByWork
	}
	return NotKept
}

// keepsSequence reports whether all that an entry works at is stacks of boxes, and feeders.
func (e *Entry) keepsSequence() bool {
	stacks := 0
	for i := range e.Stops {
		if g := e.Stops[i].Grid; g.Stacked() {
			stacks++
		} else if !g.Feeder() {
			return false
		}
	}
	return stacks > 0
}

// OnEveryWay is a pose of those that an entry's parts and the arm without one pass on
// every way between slots; nil where some way leads past none.
func (l *Layout) OnEveryWay(e *Entry) *NamedPose {
	var pose *NamedPose
	for i := range e.Stops {
		next := (i + 1) % len(e.Stops)
		there, back := l.between(e, i, next), l.between(e, next, i)
		if e.ByPart && len(there) == 0 || !e.ByPart && i < len(e.Stops)-1 && (len(there) == 0 || len(back) == 0) {
			return nil
		}
		if i == 0 {
			pose = there[len(there)-1]
		}
	}
	return pose
}

// between is the poses on the way from one stop of an entry to another.
func (l *Layout) between(e *Entry, from, to int) []*NamedPose {
	a, b := &e.Stops[from], &e.Stops[to]
	return passed(l.Figures(e, a.Grid), a.Grid, l.Figures(e, b.Grid), b.Grid)
}

// passed is the poses on the way from a grid, by its figures, into another one.
func passed(leaving *Figures, from *Grid, by *Figures, to *Grid) []*NamedPose {
	if by.Clear == nil && from == to {
		return nil
	}
	var poses []*NamedPose
	if leaving != nil {
		poses = slices.Clone(leaving.Entry)
		slices.Reverse(poses)
	}
	if by.Clear != nil {
		poses = append(poses, by.Clear)
	}
	return append(poses, by.Entry...)
}

// perRound is the stops that a part goes through before the next part starts.
func (e *Entry) perRound() int {
	if e.ByPart {
		return len(e.Stops)
	}
	return 2
}

// reusesSlots reports whether one part's move may have to wait for another's: a
// slot that is both taken from and filled, or one grid whose layers are.
func (e *Entry) reusesSlots() bool {
	stops := map[*Grid]int{}
	for i := range e.Stops {
		stops[e.Stops[i].Grid]++
	}
	used := map[*Grid]map[slot.Slot]int{} // the stop that uses a slot
	for i := range e.Stops {
		g := e.Stops[i].Grid
		switch {
		case stops[g] == 1:
			continue
		case g.Layered():
			return true
		case used[g] == nil:
			used[g] = map[slot.Slot]int{}
		}
		for at := range e.slotsOf(i).All() {
			if by, met := used[g][at]; met && by != i {
				return true
			}
			used[g][at] = i
		}
	}
	return false
}

func (e *Entry) slotsOf(stop int) *Sequence {
	if stop == 0 {
		return &e.Legs[0].From
	}
	return &e.Legs[stop-1].To
}

// Sides says which sides of the legs may be put in another order.
type Sides struct{ From, To bool }

// Shortened is the entry with the same slots in the shortest or quickest order that is
// found, when the arm comes from above a slot (nil when that is not known). Bound
// asks for Travel.Least, which takes longer. An entry that keeps its order must not
// be asked for.
func (l *Layout) Shortened(e *Entry, from *move.Point, free Sides, by Weight, bound bool) (*Entry, Travel) {
	out, gauge := e.copied(), l.gauge(e, by)
	t := Travel{Exact: true}
	for _, legs := range e.rounds() {
		r := l.round(out, legs, from, free, gauge)
		found := r.shorten()
		least := found.Cost
		if t.Work += found.Work + gauge.work(r); bound && !found.Exact {
			var work int
			least, work = r.problem().Bound(found.Cost)
			t.Work += work
		}
		t.Length += float64(found.Cost) / 1000
		t.Least += float64(least) / 1000
		t.Exact = t.Exact && (found.Exact || bound && least == found.Cost)
		r.settle(out, legs)
		from = r.end()
	}
	if !bound {
		t.Least = 0
	}
	return out, t
}

// InOrder is the entry with the same slots, each layer of each grid visited
// in an order.
func (l *Layout) InOrder(e *Entry, o Order) *Entry {
	out := e.copied()
	for _, legs := range e.rounds() {
		r := l.round(out, legs, nil, Sides{true, true}, nil)
		r.sort(o)
		r.settle(out, legs)
	}
	return out
}

// TravelOf is how far it goes, or how long, in the entry's own order.
func (l *Layout) TravelOf(e *Entry, from *move.Point, by Weight) Travel {
	var t Travel
	if e.Parts == 0 {
		return t
	}
	gauge := l.gauge(e, by)
	if e.Listed != nil {
		return l.travelOfList(e, from, gauge)
	}
	for _, legs := range e.rounds() {
		r := l.round(e, legs, from, Sides{}, gauge)
		t.Length += float64(r.length()) / 1000
		from = r.end()
	}
	return t
}

// travelOfList is TravelOf for a worklist, whose grids may change with every line.
func (l *Layout) travelOfList(e *Entry, from *move.Point, gauge *gauge) Travel {
	sum, legs := int64(0), make([][2]Cursor, len(e.Legs))
	for i := range e.Legs {
		legs[i] = [2]Cursor{e.Legs[i].From.Cursor(), e.Legs[i].To.Cursor()}
	}
	var in *Grid // that the arm is in
	var by *Figures
	var last timing.Stand
	if from != nil {
		last = gauge.stand(from)
	}
	for part := range e.Parts {
		leg := e.Listed.LegOf(part)
		for side, g := range [2]*Grid{e.Legs[leg].From.Grid, e.Legs[leg].To.Grid} {
			at, _ := legs[leg][side].Next()
			figures := l.Figures(e, g)
			_, base := figures.Above(g, at)
			now, v := gauge.stand(&base), figures.Speed(side == 1)
			if from != nil {
				sum += gauge.way(&last, gauge.over(passed(by, in, figures, g)), &now, paces{v, v})
			}
			from, last, in, by = &base, now, g, figures
		}
	}
	return Travel{Length: float64(sum) / 1000}
}

// EndOf is where the arm stands after an entry that moves something: above its
// last slot.
func (l *Layout) EndOf(e *Entry) *move.Point {
	last := &e.LastLeg().To
	var end slot.Slot
	for at := range last.All() {
		end = at
	}
	_, base := l.Figures(e, last.Grid).Above(last.Grid, end)
	return &base
}

// ArmBefore is where the arm stands before an entry, from 0: before the first one at the
// start pose, with the tool that makes it; nil where there is none.
func (l *Layout) ArmBefore(entry int, first *Tool) *move.Point {
	for i := entry - 1; i >= 0; i-- {
		if l.Entries[i].Parts > 0 {
			return l.EndOf(l.Entries[i])
		}
	}
	if w := l.Figures(nil, nil).Start; w != nil {
		return w.Base(first)
	}
	return nil
}

// span is the legs of a round, from first to last.
type span struct{ first, last int }

func (e *Entry) rounds() []span {
	if e.Parts == 0 {
		return nil
	}
	if e.ByPart {
		return []span{{0, len(e.Legs) - 1}}
	}
	var all []span
	for i := range e.Legs {
		all = append(all, span{i, i})
	}
	return all
}

func (e *Entry) copied() *Entry {
	out := *e
	out.Legs = append([]Leg(nil), e.Legs...)
	return &out
}

func (l *Layout) round(e *Entry, legs span, from *move.Point, free Sides, gauge *gauge) *round {
	r := &round{parts: e.Parts, start: from, gauge: gauge}
	add := func(s *Sequence, free, topFirst bool) { r.add(s, l.Figures(e, s.Grid), free, topFirst) }
	add(&e.Legs[legs.first].From, free.From, true)
	for i := legs.first; i <= legs.last; i++ {
		add(&e.Legs[i].To, free.To, false)
	}
	return r
}

func (r *round) add(s *Sequence, figures *Figures, free, topFirst bool) {
	stop := roundStop{grid: s.Grid, figures: figures, free: free && !s.again && !s.Grid.Stacked(), topFirst: topFirst}
	for at := range s.All() {
		stop.slots = append(stop.slots, at)
	}
	r.stops = append(r.stops, stop)
}

// settle writes the orders of the free stops into the legs, as if every slot had
// been written out by itself.
func (r *round) settle(e *Entry, legs span) {
	for i := range r.stops {
		if !r.stops[i].free {
			continue
		}
		s := r.stops[i].sequence()
		if i == 0 {
			e.Legs[legs.first].From = s
			continue
		}
		leg := legs.first + i - 1
		e.Legs[leg].To = s
		if leg < legs.last { // each part leaves from where it was put
			e.Legs[leg+1].From = s
		}
	}
}

func (s *roundStop) sequence() Sequence {
	out := Sequence{Grid: s.grid, Len: len(s.slots), rects: make([]Rect, len(s.slots)), topFirst: s.topFirst}
	for i, at := range s.slots {
		out.rects[i] = Rect{at, at}
	}
	return out
}

// end is above the round's last slot.
func (r *round) end() *move.Point {
	s := &r.stops[len(r.stops)-1]
	_, base := s.figures.Above(s.grid, s.slots[r.parts-1])
	return &base
}

// shorten settles the order of an entry that asks for the shortest or the quickest, or says why
// it is by row.
func (c *chooser) shorten() {
	free := Sides{c.leave.searched(), c.fill.searched()}
	l := c.r.out
	if !free.From && !free.To || c.r.list.HasErrors() {
		return
	}
	if why := l.Keeps(c.e, c.r.searched); why != NotKept {
		c.kept(why)
		return
	}
	var found Travel
	c.e, found = l.Shortened(c.e, l.ArmBefore(len(l.Entries), l.Figures(c.e, c.e.Stops[0].Grid).Tool), free, c.weight(), false)
	c.r.searched += found.Work
}

// weight is time where either side is to be the quickest.
func (c *chooser) weight() Weight {
	if c.leave == Quickest || c.fill == Quickest {
		return ByTime
	}
	return ByLength
}

func (c *chooser) kept(why Kept) {
	at := c.t.From.Place
	if !c.leave.searched() {
		at = c.t.To.Place
	}
	switch why {
	case ByClear:
		c.r.list.Warnf("order-without-effect", at, "no order is %s than another: the arm passes the pose %q on every way", c.weight().More(), c.r.out.OnEveryWay(c.e).Name).
			WithHint("the slots are visited by row; each one is as far from the pose whenever its turn comes")
	case ByOwnSlots:
		c.r.list.Warnf("order-not-searched", at, "the entry takes from slots that it also fills, or from layers of a grid that it also fills, so the slots are visited by row").
			WithHint("split the entry so that one grid is only emptied and the other only filled")
	case ByNumber:
		c.r.list.Warnf("order-not-searched", at, "the entry goes through %d slots, but an order is searched for up to %d, so they are visited by row", c.e.Parts*c.e.perRound(), MostShortened).
			WithHint("split the entry, or ask for \"serpentine\"")
	case ByWork:
		c.r.list.Warnf("order-not-searched", at, "the searches for the entries before this one have cost as much as those of a plan may, so its slots are visited by row").
			WithHint("ask for \"serpentine\", or split the plan")
	case ByGroups:
		c.r.list.Warnf("order-not-searched", at, "the entry carries %d parts at once, and which ones those are follows from the order, so the slots are visited by row", c.e.AtOnce).
			WithHint("write the slots in the order in which the parts are to go into the zones")
	case BySequence:
		c.r.list.Warnf("order-without-effect", at, "the boxes of a stack are put down and taken in one order only, so that no box is reached over a higher one").
			WithHint("leave \"order\" out; \"side\" of \"boxes\" says where the tool comes from")
	case ByBalance:
		c.r.list.Warnf("order-not-searched", at, "the other side of the entry keeps a ring in balance, so the slots are visited by row").
			WithHint("split the entry, or ask for \"serpentine\"")
	case NotKept, ByNoFreeSide, ByList: // nothing to report
	}
}
