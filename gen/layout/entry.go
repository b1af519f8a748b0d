package layout

import (
	"slices"

	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Entry is one entry of "transfers" with its slots chosen.
type Entry struct {
	Place       diag.Place
	Parts       int        // parts that go through it
	Part        *Part      // what they are; nil where the plan does not say, or they are of several kinds
	kinds       []*Part    // all that they are
	ByPart      bool       // each part goes through all legs before the next one starts
	AtOnce      int        // parts that are carried at once, from 1; the last group may be smaller
	AtOncePlace diag.Place // where that is written
	Stops       []Stop     // of a worklist: the grids that its lines name, in the order in which they first do
	Legs        []Leg
	Listed      *Listed // of a worklist, in which each part makes one of the legs; nil otherwise
	own         *Words  // how it moves, in its own words; nil for none
	figures     []int   // the same by stop, as numbers of the layout's; nil for none
	last        int     // the number of its last transfer
	balanced    bool    // its order keeps a rotor in balance
}

// Transfers is how many the entry makes: each part makes every leg.
func (e *Entry) Transfers() int { return e.Parts * e.PerPart() }

// Kinds is all that the parts of an entry are, as far as the plan says so.
func (e *Entry) Kinds() []*Part { return e.kinds }

// carries takes down what a part is.
func (e *Entry) carries(p *Part) {
	if p != nil && !slices.Contains(e.kinds, p) {
		e.kinds = append(e.kinds, p)
	}
}

// Leg is the leg along which a move's transfer goes.
func (e *Entry) Leg(m *move.Move) *Leg { return &e.Legs[e.leg(m)] }

func (e *Entry) leg(m *move.Move) int {
	if e.Listed == nil {
		return m.Leg - 1
	}
	first, _ := e.Span()
	return e.Listed.LegOf(m.Transfer - first)
}

// StopOf is the stop at which a move works; nil for none.
func (e *Entry) StopOf(m *move.Move) *Stop {
	i := m.Stop()
	if i < 0 {
		return nil
	}
	if e.Listed == nil {
		return &e.Stops[i]
	}
	grid := e.Leg(m).From.Grid
	if i > 0 {
		grid = e.Leg(m).To.Grid
	}
	return &e.Stops[slices.IndexFunc(e.Stops, func(s Stop) bool { return s.Grid == grid })]
}

// Carried is the part of a move's transfer or, of a grip or a release, the one that is gripped or
// let go; nil where the plan does not say.
func (l *Layout) Carried(m *move.Move) *Part {
	if m.ID != nil {
		return l.Named(*m.ID).Part
	}
	e, _ := l.EntryOf(m.Transfer)
	if e == nil {
		return nil
	}
	return e.Leg(m).Part
}

// Span is the numbers of its first and its last transfer.
func (e *Entry) Span() (first, last int) { return e.last - e.Transfers() + 1, e.last }

// Transfers is how many the whole job makes.
func (l *Layout) Transfers() int {
	if n := len(l.Entries); n > 0 {
		return l.Entries[n-1].last
	}
	return 0
}

// EntryOf is the entry that makes a transfer, and its place in the list; nil, -1
// where none does.
func (l *Layout) EntryOf(transfer int) (*Entry, int) {
	i, _ := slices.BinarySearchFunc(l.Entries, transfer, func(e *Entry, n int) int { return e.last - n })
	if transfer < 1 || i == len(l.Entries) {
		return nil, -1
	}
	return l.Entries[i], i
}

// Stop is one place of a chain.
type Stop struct {
	Place  diag.Place
	Grid   *Grid
	Whole  bool   // no slots were written
	Before []Step // what to do above a slot, before the arm goes down
	Then   []Step
	// Turned is rectangles that were written the other way round, as far as that
	// could mean something; of very many the first.
	Turned []Turned
	rects  []Rect
	count  int // the slots that are there
}

// Leg is the way from one stop to the next: the k-th slot of From goes with the
// k-th of To.
type Leg struct {
	Part     *Part // what goes along it; nil where the plan does not say
	From, To Sequence
	OverFrom []Step // what to do at the source's approach point
	OverTo   []Step // and at the destination's
	Taken    []Step // what to do after a part was taken
	Put      []Step // what to do after it was put down
}

// String is the stop as messages name it.
func (s *Stop) String() string { return s.Grid.Name }

// occupancy is what stands where while the entries are visited.
type occupancy struct {
	full  map[*Grid]Slots
	parts map[*Grid]int           // how many stand there
	held  map[*Grid]*Part         // for grids that do not name their part
	kinds map[*Grid]map[int]*Part // what was put into slots of rings
	ids   *IDs
}

func (o *occupancy) take(g *Grid, i int) {
	full := o.full[g]
	was := full.Has(i)
	if g.Take(full, i); was && !full.Has(i) {
		o.parts[g]--
	}
}

func (o *occupancy) put(g *Grid, i int, p *Part) {
	full := o.full[g]
	if g.Rotor != nil {
		if o.kinds[g] == nil {
			o.kinds[g] = map[int]*Part{}
		}
		o.kinds[g][i] = p
	}
	was := full.Has(i)
	if g.Put(full, i); !was && full.Has(i) {
		o.parts[g]++
	}
}

func (r *resolver) entries() {
	now := occupancy{full: map[*Grid]Slots{}, parts: map[*Grid]int{}, held: map[*Grid]*Part{}, kinds: map[*Grid]map[int]*Part{}, ids: r.out.IDs()}
	for _, g := range r.out.Grids {
		now.full[g] = append(Slots(nil), g.Full...)
		now.parts[g] = g.Full.count()
		now.held[g] = g.stock()
	}
	moved := 0
	quiet := r.list.HasErrors()
	r.out.Entries = slices.Grow(r.out.Entries, len(r.plan.Transfers))
	for _, t := range r.plan.Transfers {
		if e := r.entry(t, &now); e != nil {
			e.last = r.out.Transfers() + e.Transfers()
			r.out.Entries = append(r.out.Entries, e)
			moved += e.Parts
		}
	}
	r.behindAll(&now)
	r.onTheWay(&now)
	r.usual()
	if moved == 0 && !quiet && !r.list.HasErrors() {
		f := r.list.Errorf("nothing-to-move", r.plan.Place, "the plan moves no part at all")
		if len(r.out.Entries) == 0 { // each of them has its own advice
			f.WithHint("write under \"transfers\" what goes where")
		}
	}
}

func (r *resolver) entry(t *plan.Transfer, now *occupancy) *Entry {
	if t.List != nil {
		return r.worklist(t, now)
	}
	e := &Entry{Place: t.Place, ByPart: t.Advance.V == "part", AtOnce: t.AtOnce.Or(1), AtOncePlace: t.AtOnce.Place}
	e.Stops = make([]Stop, 0, len(t.Stops))
	for _, s := range t.Stops {
		if stop, ok := r.stop(s); ok {
			e.Stops = append(e.Stops, stop)
		}
	}
	if len(e.Stops) < max(2, len(t.Stops)) || t.Unread {
		return nil
	}
	if r.ofEntry(e, t); !r.oneTool(e) {
		return nil
	}
	c := chooser{r: r, t: t, e: e, now: now, leave: orderOf(t.From.V), fill: orderOf(t.To.V)}
	if !c.count() || !c.groups() || !c.rings() {
		return nil
	}
	for i := range e.Stops {
		c.dropTurned(i)
	}
	if c.legs(); r.overlooked() {
		return nil
	}
	c.shorten()
	c.settle()
	return c.e
}

// dropTurned forgets rectangles whose corners can only mean what is done: a source
// is emptied from the top layer down, as "A1.3:A1.1" says, and with the shortest
// or quickest order nobody asks for a sequence as long as every slot is used.
func (c *chooser) dropTurned(i int) {
	s, order := &c.e.Stops[i], c.fill
	if i == 0 {
		order = c.leave
		s.Turned = slices.DeleteFunc(s.Turned, func(t Turned) bool { return t.Layer })
	}
	if s.count < 2 || c.e.Parts == 0 || c.balances(i, order) || i == 0 && s.Grid.Stacked() || order.searched() && c.e.Parts == s.count {
		s.Turned = nil
	}
}

// stop finds the grid and the slots of "tray" or "tray A1:B6".
func (r *resolver) stop(s plan.Stop) (Stop, bool) {
	if !s.Target.IsSet() {
		return Stop{}, false
	}
	name, slots := plan.CutSlots(s.Target.V)
	g, known := r.gridOf[name]
	if !known && !r.plan.Unread["grid"] {
		text := plan.Text{V: name, Place: s.Target.Place}
		decode.Unknown(r.list, "grid", text, hintable(r.list, r.gridOf))
	}
	if g == nil {
		return Stop{}, false // that mistake was reported
	}
	stop := Stop{Place: s.Place, Grid: g, Whole: slots == "", Before: r.steps(s.Before), Then: r.steps(s.Then)}
	if stop.Whole {
		stop.rects = []Rect{everything(g)}
	} else {
		rects, turned, ok := r.selected(g, s.Target, slots)
		if !ok || !r.look(counting(g, rects), s.Place) {
			return Stop{}, false
		}
		stop.rects, stop.Turned = rects, turned
	}
	stop.count = count(g, stop.rects)
	return stop, true
}

// counting is how many slots, or rows of slots, count looks at.
func counting(g *Grid, rects []Rect) (looks int) {
	for _, r := range rects {
		looks += r.rows()
	}
	if g.Missing != nil {
		looks = sized(rects)
	}
	return looks
}

// count is the number of slots of rectangles that are there.
func count(g *Grid, rects []Rect) int {
	if len(rects) == 1 && rects[0] == everything(g) {
		return g.there()
	}
	n := 0
	if g.Missing != nil {
		each(g, rects, ByRow, false, func(slot.Slot) bool { n++; return true })
		return n
	}
	for _, r := range rects {
		for row := r.Lo.Row; row <= r.Hi.Row; row++ {
			n += max(0, min(g.Length(int(row)), int(r.Hi.Col)+1)-int(r.Lo.Col)) * r.layers()
		}
	}
	return n
}
