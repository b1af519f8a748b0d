package nest

import (
	"iter"
	"slices"
	"strconv"

	"gridferry/gen/layout"
	"gridferry/gen/loops"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// Statements are the loops of a layout that was resolved without an error, with
// the steps of begin and end around them.
func Statements(l *layout.Layout) iter.Seq[loops.Statement] {
	return func(yield func(loops.Statement) bool) {
		w := writer{l: l, yield: yield}
		w.steps(l.Begin)
		w.first()
		for i, e := range l.Entries {
			w.entry(i+1, e)
		}
		last := l.Figures(nil, nil)
		w.place = last.Place
		w.emit(loops.Statement{Kind: loops.Finish, Place: last.ClearPlace})
		w.steps(l.End)
	}
}

// first is the first motion: to the start pose, or else to the approach point of the first slot.
func (w *writer) first() {
	i := slices.IndexFunc(w.l.Entries, func(e *layout.Entry) bool { return e.Parts > 0 })
	e := w.l.Entries[i] // a plan that moves nothing is an error
	w.place = e.Place
	from := &e.Legs[0].From
	cursor := from.Cursor()
	at, _ := cursor.Next()
	s := loops.Statement{Kind: loops.First, Grid: from.Grid.Name, Layered: from.Grid.Layered()}
	for d, number := range asNumbers(at) {
		s.At[d] = loops.Index{Number: number}
	}
	w.emit(s)
}

// writer emits statements until nobody wants more.
type writer struct {
	l       *layout.Layout
	yield   func(loops.Statement) bool
	stopped bool
	depth   int
	place   diag.Place
}

func (w *writer) emit(s loops.Statement) {
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
		w.emit(loops.Statement{Kind: loops.Do, Place: steps[i].Place, Step: moveOf(&steps[i])})
	}
}

// moveOf is a step as a move.
func moveOf(s *layout.Step) move.Move {
	return move.Move{Kind: s.Kind, Signal: s.Signal, Level: s.Level, GoOn: s.GoOn, Seconds: s.Seconds, Text: s.Text, Place: s.Place}
}

// optionalStop ends a transfer where the plan asks for that.
func (w *writer) optionalStop(at diag.Place) {
	if !at.IsZero() {
		w.emit(loops.Statement{Kind: loops.Do, Place: at, Step: move.Move{Kind: move.Note, Pause: true, Text: "optional stop", Place: at}})
	}
}

func (w *writer) entry(number int, e *layout.Entry) {
	w.place = e.Place
	head := loops.Heading{Number: number, Parts: e.Parts, ByPart: e.ByPart && len(e.Legs) > 1, Legs: len(e.Legs)}
	for i := range e.Stops {
		head.Stops = append(head.Stops, e.Stops[i].Grid.Name)
	}
	w.emit(loops.Statement{Kind: loops.Entry, Heading: head})
	switch {
	case e.Parts == 0:
	case e.ByPart || len(e.Legs) == 1:
		w.carry(e, e.Legs)
	default:
		for i := range e.Legs {
			leg := head
			leg.Leg, leg.Stops = i+1, head.Stops[i:i+2]
			w.emit(loops.Statement{Kind: loops.Leg, Heading: leg})
			w.carry(e, e.Legs[i:i+1])
		}
	}
}

// stop is one stop on its way into the loops.
type stop struct {
	name  string // of its lists
	slots *layout.Sequence
	nests []nest // nil where loops cannot say the order
	at    [3]loops.Index
}

// carry is the loops in which each part of an entry makes all of these legs.
func (w *writer) carry(e *layout.Entry, legs []layout.Leg) {
	stops := []*stop{newStop("from", &legs[0].From)}
	for i := range legs {
		stops = append(stops, newStop(stopName(i+1, len(legs)), &legs[i].To))
	}
	lead, counted := w.lead(stops[0])
	for _, s := range stops[1:] {
		counted = w.follow(s, lead) || counted
	}
	w.loops(lead, counted, e.Parts, func() {
		for i := range legs {
			w.carried(loops.Pick, stops[i])
			w.steps(legs[i].Taken)
			w.carried(loops.Place, stops[i+1])
			w.steps(legs[i].Put)
			w.optionalStop(w.l.Figures(e, legs[i].To.Grid).StopPlace)
		}
	})
}

func stopName(i, last int) string {
	if i == last {
		return "to"
	}
	return "stop" + strconv.Itoa(i+1)
}

func newStop(name string, s *layout.Sequence) *stop {
	return &stop{name: name, slots: s, nests: nests(s)}
}

func (w *writer) carried(kind loops.Kind, s *stop) {
	w.emit(loops.Statement{Kind: kind, Grid: s.slots.Grid.Name, Layered: s.slots.Grid.Layered(), At: s.at})
}

// lead makes the source's own loops those that count, or writes its slots down
// and counts parts: then the nest is nil. It reports whether the loops need the count.
func (w *writer) lead(source *stop) (*nest, bool) {
	if len(source.nests) == 1 {
		n := &source.nests[0]
		source.at = n.at()
		if n.size == source.slots.Len {
			return n, n.more
		}
		return nil, false // a feeder's only slot, again and again
	}
	w.list(source)
	return nil, false
}

// follow settles how a later stop's slot is said: by number, by the leader's
// counters, or by a list, which needs the count.
func (w *writer) follow(s *stop, lead *nest) (needsCount bool) {
	if len(s.nests) == 1 {
		n := &s.nests[0]
		if s.at = n.at(); len(n.loops) == 0 {
			return false
		}
		if lead != nil {
			if at, inStep := n.along(lead); inStep {
				s.at = at
				return false
			}
		}
	}
	w.list(s)
	return true
}

// longestList is how many slots stand in one line.
const longestList = 16

// list writes the slots of a stop into lists, one for each direction.
func (w *writer) list(s *stop) {
	for d := range s.at {
		s.at[d] = loops.Index{Counter: loops.Counter(d), List: s.name}
	}
	grid := s.slots.Grid
	if s.nests == nil || s.slots.Len <= longestList && len(s.nests) > 1 {
		w.writtenOut(s)
		return
	}
	w.emit(loops.Statement{Kind: loops.Zero, List: s.name, Grid: grid.Name, Layered: grid.Layered()})
	done := 0
	for i := range s.nests {
		n := &s.nests[i]
		done += n.size
		w.nest(n, grid, true, done, func() {
			w.emit(loops.Statement{Kind: loops.Store, List: s.name, Grid: grid.Name, Layered: grid.Layered(), At: n.at()})
		})
	}
}

// writtenOut is the slots one by one, a few in each line.
func (w *writer) writtenOut(s *stop) {
	line := loops.Statement{Kind: loops.List, List: s.name, Grid: s.slots.Grid.Name, Layered: s.slots.Grid.Layered(), From: 1}
	count := 0
	for at := range s.slots.All() {
		for d, i := range asNumbers(at) {
			line.Slots[d] = append(line.Slots[d], i)
		}
		if count++; count%longestList == 0 || count == s.slots.Len {
			w.emit(line)
			line.From, line.Slots = count+1, [3][]int{}
		}
	}
}

func asNumbers(at slot.Slot) [3]int {
	return [3]int{int(at.Row) + 1, int(at.Col) + 1, int(at.Layer) + 1}
}

// loops puts what is done with each part into the loops that lead.
func (w *writer) loops(lead *nest, counted bool, parts int, do func()) {
	if lead == nil {
		l := loops.Loop{Counter: loops.Parts, From: 1, To: parts}
		w.emit(loops.Statement{Kind: loops.For, Loop: l})
		w.depth++
		do()
		w.depth--
		w.emit(loops.Statement{Kind: loops.Next, Loop: l})
		return
	}
	if counted {
		w.emit(loops.Statement{Kind: loops.Zero})
	}
	w.nest(lead, lead.grid, counted, parts, do)
}

// nest writes the loops of a nest around what is done at each of its slots; limit
// is the count at its end.
func (w *writer) nest(n *nest, grid *layout.Grid, counted bool, limit int, do func()) {
	for _, l := range n.loops {
		w.emit(loops.Statement{Kind: loops.For, Loop: l})
		w.depth++
	}
	for _, b := range n.skips {
		w.emit(loops.Statement{Kind: loops.Skip, Box: b, Label: label(b, grid)})
	}
	if counted {
		w.emit(loops.Statement{Kind: loops.Count})
	}
	do()
	if n.more {
		w.emit(loops.Statement{Kind: loops.Leave, Limit: limit})
	}
	for i := len(n.loops) - 1; i >= 0; i-- {
		w.depth--
		w.emit(loops.Statement{Kind: loops.Next, Loop: n.loops[i]})
	}
}

// label names a box as a plan does.
func label(b loops.Box, g *layout.Grid) string {
	first, last := corner(b.First), corner(b.Last)
	if first == last {
		return g.Label(first)
	}
	return g.Label(first) + ":" + g.Label(last)
}

func corner(at [3]int) slot.Slot {
	return slot.Slot{Row: int32(at[loops.Row] - 1), Col: int32(at[loops.Column] - 1), Layer: int32(at[loops.Layer] - 1)}
}
