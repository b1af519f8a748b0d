package loops

import (
	"iter"

	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// Statements are the loops of a layout that was resolved without an error, with
// the steps of begin and end around them.
func Statements(l *layout.Layout) iter.Seq[Statement] {
	return func(yield func(Statement) bool) {
		w := writer{yield: yield}
		w.steps(l.Begin)
		for i, e := range l.Entries {
			w.entry(i+1, e)
		}
		w.emit(Statement{Kind: Finish, Place: l.Motion.ClearPlace})
		w.steps(l.End)
	}
}

// writer emits statements until nobody wants more.
type writer struct {
	yield   func(Statement) bool
	stopped bool
	depth   int
	place   diag.Place
}

func (w *writer) emit(s Statement) {
	if w.stopped {
		return
	}
	s.Depth = w.depth
	if s.Place.IsZero() {
		s.Place = w.place
	}
	w.stopped = !w.yield(s)
}

func (w *writer) steps(steps []layout.Step) {
	for i := range steps {
		w.emit(Statement{Kind: Do, Place: steps[i].Place, Step: &steps[i]})
	}
}

func (w *writer) entry(number int, e *layout.Entry) {
	w.place = e.Place
	head := EntryHeading{Number: number, Parts: e.Parts, ByPart: e.ByPart, Legs: len(e.Legs)}
	for i := range e.Stops {
		head.Stops = append(head.Stops, e.Stops[i].Grid.Name)
	}
	w.emit(Statement{Kind: Heading, Heading: head})
	switch {
	case e.Parts == 0:
	case e.ByPart || len(e.Legs) == 1:
		w.carry(e.Parts, e.Legs)
	default:
		for i := range e.Legs {
			leg := head
			leg.Leg, leg.Stops = i+1, head.Stops[i:i+2]
			w.emit(Statement{Kind: Heading, Heading: leg})
			w.carry(e.Parts, e.Legs[i:i+1])
		}
	}
}

// stop is one stop on its way into the loops.
type stop struct {
	name  ListName
	grid  *layout.Grid
	nests []nest
	at    [3]Index
}

// carry is the loops in which each part makes all of these legs.
func (w *writer) carry(parts int, legs []layout.Leg) {
	stops := []*stop{newStop(From, &legs[0].From)}
	for i := range legs {
		stops = append(stops, newStop(ListName(i+1), &legs[i].To))
	}
	lead := w.lead(parts, stops[0])
	counted := lead.counts
	for _, s := range stops[1:] {
		counted = w.follow(s, lead, parts) || counted
	}
	w.loops(lead, counted, parts, func() {
		for i := range legs {
			w.emit(Statement{Kind: Pick, Grid: stops[i].grid, At: stops[i].at})
			w.steps(legs[i].Taken)
			w.emit(Statement{Kind: Place, Grid: stops[i+1].grid, At: stops[i+1].at})
			w.steps(legs[i].Put)
		}
	})
}

func newStop(name ListName, s *layout.Sequence) *stop {
	return &stop{name: name, grid: s.Grid, nests: nests(s)}
}

// leader is the loops that the parts are counted by.
type leader struct {
	nest   *nest // nil where the loop counts parts
	counts bool  // its loops need the count
}

// lead makes the source's own loops those that count, or writes its slots down
// and counts parts.
func (w *writer) lead(parts int, source *stop) leader {
	if len(source.nests) == 1 {
		n := &source.nests[0]
		source.at = n.at()
		return leader{n, n.more}
	}
	w.list(source, parts)
	return leader{}
}

// follow settles how a later stop's slot is said: by number, by the leader's
// counters, or by a list, which needs the count.
func (w *writer) follow(s *stop, lead leader, parts int) bool {
	if len(s.nests) == 1 {
		n := &s.nests[0]
		if at, inStep := n.at(), len(n.loops) == 0; inStep {
			s.at = at
			return false
		}
		if lead.nest != nil {
			if at, inStep := n.along(lead.nest); inStep {
				s.at = at
				return false
			}
		}
	}
	w.list(s, parts)
	return true
}

// list writes the slots of a stop into lists, one for each direction.
func (w *writer) list(s *stop, parts int) {
	for d := range s.at {
		s.at[d] = Index{Counter: Counter(d), List: s.name}
	}
	if slots, short := writtenOut(s.nests, parts); short {
		w.emit(Statement{Kind: List, List: s.name, Grid: s.grid, Slots: slots})
		return
	}
	w.emit(Statement{Kind: Zero, List: s.name, Grid: s.grid})
	done := 0
	for i := range s.nests {
		n := &s.nests[i]
		done += n.size
		w.nest(n, true, done, func() { w.emit(Statement{Kind: Store, List: s.name, Grid: s.grid, At: n.at()}) })
	}
}

// longestList is how many slots are written out one by one.
const longestList = 16

// writtenOut is the slots themselves where they are few and named one by one.
func writtenOut(nests []nest, parts int) (slots [3][]int, ok bool) {
	if parts > longestList {
		return slots, false
	}
	for _, n := range nests {
		if len(n.loops) > 0 {
			return slots, false
		}
		for d, i := range asNumbers(n.lo) {
			slots[d] = append(slots[d], i)
		}
	}
	return slots, true
}

func asNumbers(at slot.Slot) [3]int {
	return [3]int{int(at.Row) + 1, int(at.Col) + 1, int(at.Layer) + 1}
}

// loops puts what is done with each part into the loops that lead.
func (w *writer) loops(lead leader, counted bool, parts int, do func()) {
	if lead.nest == nil {
		l := Loop{Counter: Parts, From: 1, To: parts}
		w.in(l, do)
		return
	}
	if counted {
		w.emit(Statement{Kind: Zero, List: NoList})
	}
	w.nest(lead.nest, counted, parts, do)
}

// nest writes the loops of a nest around what is done at each of its slots; limit
// is the count at its end.
func (w *writer) nest(n *nest, counted bool, limit int, do func()) {
	for _, l := range n.loops {
		w.emit(Statement{Kind: For, Loop: l})
		w.depth++
	}
	for _, b := range n.skips {
		w.emit(Statement{Kind: Skip, Box: b})
	}
	if counted {
		w.emit(Statement{Kind: Count})
	}
	do()
	if n.more {
		w.emit(Statement{Kind: Leave, Limit: limit})
	}
	for i := len(n.loops) - 1; i >= 0; i-- {
		w.depth--
		w.emit(Statement{Kind: Next, Loop: n.loops[i]})
	}
}

func (w *writer) in(l Loop, do func()) {
	w.emit(Statement{Kind: For, Loop: l})
	w.depth++
	do()
	w.depth--
	w.emit(Statement{Kind: Next, Loop: l})
}
