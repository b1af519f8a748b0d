package draw

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// scene is what a picture shows: what stands where, who takes and puts it, and
// the path.
type scene struct {
	l     *layout.Layout
	o     Options
	total int // transfers
	after int // transfers made, for what stands where
	grids []*standing
	trace trace
	focus focus
	work  []work

	byName map[string]*standing
	follow *layout.Follower // up to the transfers that are made
}

// tool is the plan's own, with which poses are drawn that are given by joints.
func (s *scene) tool() *layout.Tool { return s.l.Figures(nil, nil).Tool }

// focus is what the one transfer of Options.Transfer does.
type focus struct {
	first, last int // its moves
	from, to    move.Target
}

// standing is a grid with what stands in it.
type standing struct {
	*layout.Grid
	part  *layout.Part // nil when nobody says
	full  layout.Slots
	lies  *layout.Lies
	due   layout.Slots // slots into which a part is still put
	holds int          // slots that hold a part
	there int          // slots that are not missing
	taken span
	put   span
	marks map[int]*mark // by slot; nil in a grid too large to number
	big   bool          // too large to draw slot by slot

	extent *extent // nil as long as nobody asked for it

	worked *move.Target // where a tool that has boxes worked last; nil for nowhere
}

// span is the first and the last transfer that does something in a grid, and how it begins:
// the slots at the ends of the first line of slots, and the one after them.
type span struct {
	first, last         int // 0 for none
	firstSlot, lastSlot slot.Slot
	begins              []slot.Slot
}

func (s *span) add(transfer int, at slot.Slot) {
	if s.first == 0 {
		s.first, s.firstSlot = transfer, at
	}
	s.last, s.lastSlot = transfer, at
	switch n := len(s.begins); {
	case n == 2 && step(s.begins[1], at) == step(s.begins[0], s.begins[1]).unit():
		s.begins[1] = at
	case n < 3:
		s.begins = append(s.begins, at)
	}
}

// way is how far on a slot lies from another one, in rows, columns and layers.
type way struct{ rows, columns, layers int32 }

func step(from, to slot.Slot) way {
	return way{to.Row - from.Row, to.Col - from.Col, to.Layer - from.Layer}
}

// unit is one step of a way along a line of slots.
func (w way) unit() way {
	n := max(w.rows, -w.rows, w.columns, -w.columns, w.layers, -w.layers, 1)
	return way{w.rows / n, w.columns / n, w.layers / n}
}

// mark is which transfers take from a slot and put into it.
type mark struct{ taken, put tally }

// tally is the first few numbers and how many there are.
type tally struct {
	numbers [3]int
	n       int
}

func (t *tally) add(number int) {
	if t.n < len(t.numbers) {
		t.numbers[t.n] = number
	}
	t.n++
}

// The most that is drawn one by one. What goes beyond is drawn in sum, and the
// legend says so.
const (
	mostSlots      = 4000 // of one grid
	mostSlotsInAll = 8000
	mostThings     = 300 // frames, poses, boxes, grids: of each
	mostTransfers  = 48  // whose path is drawn
	fewTransfers   = 24  // about as many are drawn of more than those
)

// observe goes through the moves once.
func observe(l *layout.Layout, moves move.Seq, o Options) *scene {
	s := &scene{l: l, o: o, total: l.Transfers(), after: o.After, byName: map[string]*standing{}}
	if o.Transfer > 0 && o.After == 0 {
		s.after = o.Transfer - 1
	}
	s.trace = newTrace(s.total, o)
	s.stand()
	for m := range moves {
		s.see(&m)
	}
	for _, g := range s.grids {
		g.count()
	}
	return s
}

// stand fills the grids as they are at the start.
func (s *scene) stand() {
	left := mostSlotsInAll
	s.follow = s.l.Follow()
	for _, g := range s.l.Grids {
		standing := &standing{Grid: g, part: s.l.PartIn(g), lies: s.follow.Lies(g), full: append(layout.Slots(nil), g.Full...), due: layout.NewSlots(g.Size())}
		standing.big = g.Size() > mostSlots || g.Size() > left
		if !standing.big {
			left -= g.Size()
			standing.marks = map[int]*mark{}
		}
		s.grids = append(s.grids, standing)
		s.byName[g.Name] = standing
	}
}

func (s *scene) see(m *move.Move) {
	focused := s.o.Transfer > 0 && s.focuses(m)
	if focused {
		s.focus.see(m)
	}
	if m.Carries() <= s.after {
		s.follow.See(m)
	}
	switch {
	case m.Kind.IsMotion():
		s.trace.to(m)
		s.works(m)
	case m.Takes():
		s.take(m, focused || s.o.Transfer == 0)
	case m.Puts():
		s.putDown(m, focused || s.o.Transfer == 0)
	}
}

// focuses reports whether a move is one of the transfer that is shown by itself: of a descent
// of several zones too, but of its grips and releases only the own ones.
func (s *scene) focuses(m *move.Move) bool {
	if m.Takes() || m.Puts() {
		return m.Carries() == s.o.Transfer
	}
	return m.Transfer == s.o.Transfer || m.Group > 0 && m.Transfer == m.Group && m.Transfer < s.o.Transfer && s.o.Transfer < m.Transfer+m.Zones
}

func (f *focus) see(m *move.Move) {
	if f.first == 0 {
		f.first = m.N
	}
	f.last = m.N
	switch {
	case m.Takes():
		f.from = m.Target
	case m.Puts():
		f.to = m.Target
	}
}

func (s *scene) take(m *move.Move, numbered bool) {
	g, i := s.at(m)
	if m.Carries() <= s.after {
		g.Take(g.full, i)
	}
	if numbered {
		g.taken.add(m.Carries(), m.Target.Slot)
		if mark := g.mark(i); mark != nil {
			mark.taken.add(m.Carries())
		}
	}
}

func (s *scene) putDown(m *move.Move, numbered bool) {
	g, i := s.at(m)
	if m.Carries() <= s.after {
		g.Put(g.full, i)
	} else {
		g.due.Add(i)
	}
	if numbered {
		g.put.add(m.Carries(), m.Target.Slot)
		if mark := g.mark(i); mark != nil {
			mark.put.add(m.Carries())
		}
	}
}

func (s *scene) at(m *move.Move) (*standing, int) {
	g := s.byName[m.Target.Grid]
	return g, g.Index(m.Target.Slot)
}

// mark is a slot's mark, made when it is first asked for; nil in a big grid.
func (g *standing) mark(i int) *mark {
	if g.marks == nil {
		return nil
	}
	if g.marks[i] == nil {
		g.marks[i] = &mark{}
	}
	return g.marks[i]
}

func (g *standing) count() {
	for i := range g.Size() {
		if g.Missing.Has(i) {
			continue
		}
		g.there++
		if g.full.Has(i) {
			g.holds++
		}
	}
}

// base is a slot's TCP position in the base.
func (g *standing) base(s slot.Slot) geom.Vec { return g.Frame.Base.Apply(g.At(s)) }

// extent is how far a grid reaches: a polygon in its frame and the heights between which
// parts stand over it.
type extent struct {
	polygon  []pt // in the frame's X and Y, mm
	from, to float64
}

// reaches is a grid's extent with its parts, worked out when it is first asked for, which is
// behind the last move: parts lie as they came. Where slots lie evenly it is the box around
// all, otherwise what lies between the outermost.
func (g *standing) reaches() *extent {
	if g.extent != nil {
		return g.extent
	}
	e := &extent{from: math.Inf(1), to: math.Inf(-1)}
	add := func(lo, hi geom.Vec) {
		e.polygon = append(e.polygon, pt{lo.X, lo.Y}, pt{hi.X, lo.Y}, pt{hi.X, hi.Y}, pt{lo.X, hi.Y})
		e.from, e.to = min(e.from, lo.Z), max(e.to, hi.Z)
	}
	if g.Pattern.Form().Even() {
		lo, hi := g.Around(g.part, g.lies.Ways())
		from, to := g.Pattern.Bounds()
		add(from.Add(lo), to.Add(hi))
	} else {
		for _, s := range g.Pattern.Outline() {
			at := g.At(s)
			lo, hi := g.AroundSlot(s, g.part, g.lies.Ways())
			add(at.Add(lo), at.Add(hi))
		}
		e.polygon = hull(e.polygon)
	}
	g.extent = e
	return e
}

// corners are those of a grid's extent, widened by a margin along the frame's X and Y, in
// the base.
func (g *standing) corners(margin float64) (all []geom.Vec) {
	e := g.reaches()
	wider := []pt{{-margin, -margin}, {margin, -margin}, {margin, margin}, {-margin, margin}}
	for i, p := range e.polygon {
		by := wider
		switch {
		case margin == 0:
			by = wider[:1]
		case g.Pattern.Form().Even(): // corner by corner, as reaches has them
			by = wider[i : i+1]
		}
		for _, by := range by {
			for _, z := range [...]float64{e.from, e.to} {
				all = append(all, g.Frame.Base.Apply(geom.Vec{X: p.x + by.x, Y: p.y + by.y, Z: z}))
			}
		}
	}
	return all
}
