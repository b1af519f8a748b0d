package layout

import (
	"fmt"

	"gridferry/plan"
	"gridferry/plan/wording"
)

// chooser chooses the slots of one entry by the rules of the plan format: slots
// that are written out are meant exactly, a whole grid gives or takes what the
// other side needs.
type chooser struct {
	r           *resolver
	t           *plan.Transfer
	e           *Entry
	now         *occupancy
	ids         []int32 // of the parts of a group
	leave, fill Order
}

// available is how many parts a stop could give or take, and what the figure
// counts.
func (c *chooser) available(i int) (int, string) {
	s := &c.e.Stops[i]
	switch {
	case !s.Whole:
		return s.count, "named"
	case i == 0:
		return c.occupied(s), "filled"
	default:
		return s.count - c.occupied(s), "free"
	}
}

// occupied is how many slots of a whole grid hold a part.
func (c *chooser) occupied(s *Stop) int { return c.now.parts[s.Grid] }

// serves reports whether stop i is a single slot in the middle, which every part
// passes in turn.
func (c *chooser) serves(i int) bool {
	return i > 0 && i < len(c.e.Stops)-1 && c.e.Stops[i].count == 1
}

// endless reports whether stop i takes or gives as many parts as the others ask for.
func (c *chooser) endless(i int) bool {
	s := &c.e.Stops[i]
	return c.serves(i) || s.Grid.Feeder() && s.count > 0
}

// count settles how many parts go, or says why that is not settled.
func (c *chooser) count() bool {
	if !c.withFlow() {
		return false
	}
	n, decided := c.exact()
	if !decided {
		return false
	}
	for i := range c.e.Stops {
		if !c.e.Stops[i].Whole || c.endless(i) {
			continue
		}
		has, kind := c.available(i)
		has = c.taken(has)
		switch {
		case n.stop < 0 || n.clipped && has < n.parts:
			n = need{parts: has, stop: i, clipped: true}
		case has < n.parts:
			c.mismatch(n.stop, n.parts, i, has, kind)
			return false
		}
	}
	return c.settleCount(n)
}

// need is how many parts an entry moves, and the stop that says so. It is
// clipped where only whole grids had a say: those may be cut further.
type need struct {
	parts, stop int
	clipped     bool
}

// exact is the number that the written-out slots agree on.
func (c *chooser) exact() (need, bool) {
	n := need{stop: -1}
	for i := range c.e.Stops {
		if c.e.Stops[i].Whole || c.endless(i) {
			continue
		}
		has, _ := c.available(i)
		has = c.taken(has)
		if n.stop >= 0 && has != n.parts {
			c.mismatch(n.stop, n.parts, i, has, "named")
			return n, false
		}
		if n.stop < 0 {
			n = need{parts: has, stop: i}
		}
	}
	return n, true
}

// taken is a count held to "take".
func (c *chooser) taken(n int) int {
	if c.t.Take.IsSet() {
		return min(n, c.t.Take.V)
	}
	return n
}

func (c *chooser) mismatch(a, needs, b, has int, kind string) {
	first, second := &c.e.Stops[a], &c.e.Stops[b]
	found := fmt.Sprintf("%q names %d", c.text(b), has)
	switch kind {
	case "filled":
		found = fmt.Sprintf("%q holds %s then", c.text(b), wording.Count(has, "part"))
	case "free":
		found = fmt.Sprintf("%q has %d free then", c.text(b), has)
	}
	f := c.r.list.Errorf("count-mismatch", second.Place, "%q names %s, but %s", c.text(a), wording.Count(needs, "slot"), found)
	if first.Place.Line != second.Place.Line {
		f.WithNote(first.Place, "%d slots are asked for here", needs)
	}
	if least := min(needs, has); least > 0 {
		f.WithHint("name as many slots on both sides, or say \"take: %d\"", least)
	} else {
		f.WithHint("name as many slots on both sides")
	}
}

func (c *chooser) text(i int) string { return wording.Brief(c.t.Stops[i].Target.V) }

func (c *chooser) settleCount(n need) bool {
	if n.stop < 0 {
		var told bool
		if n, told = c.unbounded(); !told {
			return false
		}
	}
	for i := range c.e.Stops {
		if c.serves(i) && !c.e.ByPart && n.parts > 1 {
			c.r.list.Errorf("single-slot-stop", c.e.Stops[i].Place, "%d parts cannot stand in %q at the same time, which is a single slot",
				n.parts, c.text(i)).WithHint("say \"advance: part\", so that each part goes through all stops before the next one starts")
			return false
		}
	}
	if n.parts == 0 {
		_, kind := c.available(n.stop)
		f := c.r.list.Warnf("nothing-to-move", c.e.Stops[n.stop].Place, "this entry moves nothing: no slot of %q is %s when it begins",
			c.text(n.stop), kind)
		switch s := &c.e.Stops[n.stop]; {
		case kind == "filled":
			f.WithHint("\"filled:\" of the grid says which parts are there at the start")
		case s.Grid == c.e.Stops[0].Grid && s.Grid.Layers == 1:
			f.WithHint("%q by itself means the slots that are free when the entry begins: to put the parts back where they were, write \"%[1]s %s:%s\"",
				s.Grid.Name, s.Grid.Label(s.Grid.Slot(0)), s.Grid.Label(s.Grid.Slot(s.Grid.Size()-1)))
		default:
			f.WithHint("\"check --slots\" shows which slots hold a part, and when")
		}
	}
	c.e.Parts = n.parts
	c.leaveBehind(n)
	return c.withinLimit(n)
}

// withinLimit bounds what all entries together may ask for: a few lines can
// name more transfers than a machine makes in its life.
func (c *chooser) withinLimit(n need) bool {
	asked := n.parts * c.e.perPart()
	if asked > c.r.leftTransfers {
		c.r.list.Errorf("too-many-transfers", c.e.Stops[n.stop].Place, "this entry makes %d transfers, but only %d are left of the limit", asked, c.r.leftTransfers).
			WithHint("\"--limit\" raises it; \"take:\" moves fewer parts")
		return false
	}
	c.r.leftTransfers -= asked
	return c.movesWithin(n)
}

// legs chooses the slots of every stop and pairs them.
func (c *chooser) legs() {
	last := len(c.e.Stops) - 1
	from := c.sequence(0)
	c.e.Legs = make([]Leg, 0, last)
	for i := 1; i <= last; i++ {
		to := c.sequence(i)
		c.e.Legs = append(c.e.Legs, Leg{From: from, To: to, OverTo: c.e.Stops[i].Before, Put: c.e.Stops[i].Then})
		from = to
		if !c.e.ByPart && i < last {
			c.keep(&to) // "first n" means another n in another order
			if from = c.reordered(&to); c.balances(i, c.leave) {
				from = c.passing(i, from)
			}
		}
	}
	c.e.Legs[0].OverFrom, c.e.Legs[0].Taken = c.e.Stops[0].Before, c.e.Stops[0].Then
}

// sequence is the slots of stop i as they are first chosen.
func (c *chooser) sequence(i int) Sequence {
	s := &c.e.Stops[i]
	seq := Sequence{Grid: s.Grid, Len: c.e.Parts, rects: s.rects, order: c.fill, again: c.endless(i)}
	if i == 0 {
		seq.order, seq.topFirst = c.leaving(s.Grid), true
	}
	if seq.again {
		return seq
	}
	switch {
	case !s.Whole:
	case i == 0:
		seq.only = c.now.full[s.Grid]
	default:
		seq.except = c.now.full[s.Grid]
	}
	if c.balances(i, seq.order) {
		return c.balanced(i, seq, s.count)
	}
	if !s.Whole {
		return seq
	}
	c.skip(&seq)
	c.keep(&seq)
	c.byZones(&seq, i == 0)
	return seq
}

// leaving is the order in which parts leave a grid.
func (c *chooser) leaving(g *Grid) Order {
	if g.Stacked() {
		return Backward
	}
	return c.leave
}

// keep fixes the choice of a stop's slots.
func (c *chooser) keep(s *Sequence) { c.r.look(s.keep(c.e.Parts), c.e.Place) }

// reordered is the slots of a stop in the middle as the parts leave them.
func (c *chooser) reordered(s *Sequence) Sequence {
	again, looks := s.reordered(c.leaving(s.Grid), true)
	c.r.look(looks, c.e.Place)
	c.byZones(&again, true)
	return again
}

// skip lets the choice among a whole grid's slots begin where the one before
// it, in the same order, found its first slot: what lies before that was of no
// use then, and still is unless a slot there has changed for the better. Without
// it a plan that takes a part at a time out of a large grid, again and again,
// would look at the emptied slots again and again.
func (c *chooser) skip(s *Sequence) {
	memory := c.r.starts[s.Grid]
	if memory == nil {
		memory = new(starts)
		c.r.starts[s.Grid] = memory
	}
	at := &memory.free[s.order]
	if s.only != nil { // a source
		at = &memory.full[s.order]
	}
	s.skip = *at
	next := s.Cursor()
	_, found := next.Next()
	c.r.look(next.looks(), c.e.Place)
	if found && next.rect == 0 {
		*at = next.k - 1
		s.skip = *at
	}
}

// starts is, by order, where in a whole grid the first usable slot may be.
type starts struct{ full, free [mostOrders]int }

// mostOrders is room for every Order.
const mostOrders = 8

// settle brings the occupancy to where the entry leaves it, part by part: a
// slot of the source may be one that the entry itself fills on the way.
func (c *chooser) settle() {
	first, last := c.e.Legs[0].From.Grid, c.e.Legs[len(c.e.Legs)-1].To.Grid
	part := c.now.held[first]
	for i := range c.e.Legs {
		c.e.Legs[i].Part = part
	}
	c.e.carries(part)
	if c.e.ByPart {
		c.settleByPart()
	} else {
		for i := range c.e.Legs {
			l := &c.e.Legs[i]
			from, to := l.From.Cursor(), l.To.Cursor()
			for left := c.e.Parts; left > 0; left -= c.e.AtOnce {
				c.carry(l, &from, &to, min(left, c.e.AtOnce))
			}
		}
	}
	if c.e.onePart(); c.now.held[last] == nil {
		c.now.held[last] = c.e.Part
	}
}

func (c *chooser) settleByPart() {
	from, to := make([]Cursor, len(c.e.Legs)), make([]Cursor, len(c.e.Legs))
	for i := range c.e.Legs {
		from[i], to[i] = c.e.Legs[i].From.Cursor(), c.e.Legs[i].To.Cursor()
	}
	for left := c.e.Parts; left > 0; left -= c.e.AtOnce {
		for i := range c.e.Legs {
			c.carry(&c.e.Legs[i], &from[i], &to[i], min(left, c.e.AtOnce))
		}
	}
}

// carry takes a group of n parts along a leg: all of them are taken before one is put down.
func (c *chooser) carry(l *Leg, from, to *Cursor, n int) {
	c.ids = c.ids[:0]
	for range n {
		if at, ok := from.Next(); ok {
			k := l.From.Grid.Index(at)
			c.now.take(l.From.Grid, k)
			if c.r.out.HasIDs() {
				id := c.now.ids.At(l.From.Grid, k)
				c.ids = append(c.ids, id)
				c.e.carries(c.r.out.PartOf(id, nil))
				c.now.ids.Put(l.From.Grid, k, 0)
			}
		}
	}
	for i := range n {
		if at, ok := to.Next(); ok {
			k := l.To.Grid.Index(at)
			part := l.Part
			if i < len(c.ids) {
				c.now.ids.Put(l.To.Grid, k, c.ids[i])
				part = c.r.out.PartOf(c.ids[i], part)
			}
			c.now.put(l.To.Grid, k, part)
		}
	}
	if s := c.r.starts[l.From.Grid]; s != nil {
		s.free = [len(s.free)]int{}
	}
	if s := c.r.starts[l.To.Grid]; s != nil {
		s.full = [len(s.full)]int{}
	}
}
