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

// Loops are the tables and the loops of a layout that was resolved without an error, with
// the steps of begin and end around them.
func Loops(l *layout.Layout) (loops.Tables, iter.Seq[loops.Statement]) {
	j := newJob(l)
	j.tables()
	return j.Tables, func(yield func(loops.Statement) bool) {
		w := writer{book: j.book, yield: yield}
		w.begin()
		for i := range j.entries {
			w.entry(i+1, &j.entries[i])
		}
		w.place = j.last.Place
		w.emit(loops.Statement{Kind: loops.Finish, Place: j.last.ClearPlace, Home: j.home(j.last)})
		w.steps(l.End, doing{by: j.last, on: j.last.Tool})
	}
}

// begin is the steps of begin, the question whether nothing is held, and the first motion.
func (w *writer) begin() {
	w.steps(w.l.Begin, doing{by: w.own, on: w.l.ToolAt(1)})
	e := w.l.Entries[slices.IndexFunc(w.l.Entries, func(e *layout.Entry) bool { return e.Parts > 0 })] // a plan that moves nothing is an error
	w.place = e.Place
	by := w.l.Figures(e, e.Stops[0].Grid)
	if asks := w.empty(by.Tool); asks != nil {
		w.emit(loops.Statement{Kind: loops.Ask, Asks: asks})
	}
	if !w.moved {
		w.first(e, by)
	}
}

// first is the first motion: to the start pose, or else to where the first pick begins.
func (w *writer) first(e *layout.Entry, by *layout.Figures) {
	from := &e.Legs[0].From
	cursor := from.Cursor()
	at, _ := cursor.Next()
	s := loops.Statement{Kind: loops.First, Grid: from.Grid.Name, Layered: from.Grid.Layered()}
	for d, number := range asNumbers(at) {
		s.At[d] = loops.Index{Number: number}
	}
	s.First = loops.Beginning{Lead: leadOf(by, by.Approach.V), Speed: by.Near.V, Pose: w.pose(by.Start, by.Tool)}
	if s.First.Pose == nil {
		s.First.Pose = w.pose(by.Clear, by.Tool)
	}
	if s.First.Pose == nil && len(by.Entry) > 0 {
		s.First.Pose = w.pose(by.Entry[0], by.Tool)
	}
	w.moved = true
	if by.Clear == nil {
		s.First.Opens, s.First.Open = true, w.zones(by.Tool, 0, zonesOf(e))
	}
	w.emit(s)
}

// writer emits statements until nobody wants more.
type writer struct {
	*book
	yield   func(loops.Statement) bool
	stopped bool
	moved   bool // the arm, for the first time
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

// doing is by which figures steps are done, with which tool on the flange, whether a part is held, and whether the arm may be
// in a grid that it has to leave.
type doing struct {
	by         *layout.Figures
	on         *layout.Tool
	loaded, in bool
}

func (w *writer) steps(steps []layout.Step, d doing) {
	frame := ""
	for i := range steps {
		s := &steps[i]
		if s.Kind.IsMotion() {
			w.goStep(s, d, frame)
			frame = s.Pose.Frame.Name
			continue
		}
		w.emit(loops.Statement{Kind: loops.Do, Place: s.Place, Step: moveOf(s)})
	}
}

// goStep is a step that moves the arm, behind the way to the start pose where nothing has moved.
// The frame is that of the step before.
func (w *writer) goStep(s *layout.Step, d doing, frame string) {
	way := loops.Way{Pose: w.pose(s.Pose, d.on), Straight: s.Kind == move.Straight, Framed: frame == s.Pose.Frame.Name, Speed: d.by.Speed(d.loaded), Out: d.in && s.Kind == move.Travel}
	way.Framed = way.Framed && !way.Out
	if way.Straight {
		way.Speed = d.by.Near.V
	}
	if !w.moved {
		w.moved = true
		if start := w.pose(d.by.Start, d.on); start != nil {
			w.emit(loops.Statement{Kind: loops.First, Place: s.Place, First: loops.Beginning{Pose: start, Speed: d.by.Near.V}})
		} else {
			way.First, way.Speed = true, d.by.Near.V
		}
	}
	w.emit(loops.Statement{Kind: loops.Go, Place: s.Place, Way: way})
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

func (w *writer) entry(number int, e *entry) {
	w.place = e.Place
	head := loops.Heading{Number: number, Parts: e.Parts, ByPart: e.ByPart && len(e.Legs) > 1, Legs: e.PerPart()}
	for i := range e.Stops {
		head.Stops = append(head.Stops, e.Stops[i].Grid.Name)
	}
	if e.Parts > 0 {
		head.AtOnce = zonesOf(e.Entry)
	}
	if e.Listed == nil {
		w.emit(loops.Statement{Kind: loops.Entry, Heading: head})
	}
	if e.change != nil {
		w.emit(loops.Statement{Kind: loops.Switch, Switch: *e.change})
	}
	if e.Listed != nil {
		w.worklist(head, e)
		return
	}
	for i := range e.passes {
		if len(e.passes) > 1 {
			leg := head
			leg.Leg, leg.Stops = i+1, head.Stops[i:i+2]
			w.emit(loops.Statement{Kind: loops.Leg, Heading: leg})
		}
		if head.AtOnce > 1 {
			w.groups(&e.passes[i])
		} else {
			w.parts(&e.passes[i], e.Parts)
		}
	}
}

// worklist is the runs of lines between the same two grids, each like an entry of its own.
func (w *writer) worklist(head loops.Heading, e *entry) {
	for r := range e.Runs() {
		if w.stopped {
			return
		}
		run := head
		run.Parts, run.Stops = r.Legs[0].From.Len, []string{r.Legs[0].From.Grid.Name, r.Legs[0].To.Grid.Name}
		w.emit(loops.Statement{Kind: loops.Entry, Heading: run})
		if r.Note != "" {
			w.emit(loops.Statement{Kind: loops.Do, Step: move.Move{Kind: move.Note, Text: r.Note}})
		}
		p := e.lines[r.Leg]
		p.legs = r.Legs
		w.parts(&p, run.Parts)
	}
}

// stop is one stop on its way into the loops.
type stop struct {
	name  string // of its lists
	slots *layout.Sequence
	nests []nest // nil where loops cannot say the order
	at    [3]loops.Index
}

// stops are those of the legs of a pass, the first one's source and every destination.
func stops(legs []layout.Leg) []*stop {
	all := []*stop{newStop("from", &legs[0].From)}
	for i := range legs {
		all = append(all, newStop(stopName(i+1, len(legs)), &legs[i].To))
	}
	return all
}

// parts is the loops in which each of n parts makes the legs of a pass.
func (w *writer) parts(p *pass, n int) {
	stops := stops(p.legs)
	lead, counted := w.lead(stops)
	for _, s := range stops[1:] {
		counted = w.follow(s, lead) || counted
	}
	for s := range p.stretches() { // one
		w.loops(lead, counted, n, func() { w.carry(p, &s, stops) })
	}
}

// groups is the loops in which each group of parts makes the legs of a pass. Its slots stand
// in lists, and part 2 of a group uses the item behind that of part 1.
func (w *writer) groups(p *pass) {
	stops := stops(p.legs)
	for _, s := range stops {
		if len(s.nests) == 1 && len(s.nests[0].loops) == 0 {
			s.at = s.nests[0].at()
		} else {
			w.list(s)
		}
	}
	w.emit(loops.Statement{Kind: loops.Zero})
	for s := range p.stretches() {
		if w.stretch(p, &s, stops); w.stopped {
			return
		}
	}
}

// stretch is groups that are carried alike, in a loop where they are several.
func (w *writer) stretch(p *pass, s *stretch, stops []*stop) {
	each := loops.Loop{Counter: loops.Group, From: s.groups[0], To: s.groups[1]}
	several := each.From < each.To
	if !s.last || each.From > 1 {
		w.emit(loops.Statement{Kind: loops.Groups, Heading: loops.Heading{Groups: s.groups, AtOnce: s.parts}})
	}
	if several {
		w.emit(loops.Statement{Kind: loops.For, Loop: each})
		w.depth++
	}
	w.carry(p, s, stops)
	if several || !s.last {
		w.emit(loops.Statement{Kind: loops.Count, Parts: s.parts})
	}
	if several {
		w.depth--
		w.emit(loops.Statement{Kind: loops.Next, Loop: each})
	}
}

// carry is what is done with a part, or a group, on some legs.
func (w *writer) carry(p *pass, r *stretch, stops []*stop) {
	for i := range p.legs {
		for k := range r.legs[i].take {
			w.call(&r.legs[i].take[k], stops[i])
		}
		for k := range r.legs[i].put {
			w.call(&r.legs[i].put[k], stops[i+1])
		}
		w.optionalStop(w.l.Figures(p.e, p.legs[i].To.Grid).StopPlace)
	}
}

// call is what is done at a slot.
func (w *writer) call(c *call, s *stop) {
	verb, come, back := loops.Put, loops.ComePut, loops.BackPut
	if c.pick {
		verb, come, back = loops.Pick, loops.ComePick, loops.BackPick
	}
	w.called(come, c.come, c, s)
	w.steps(c.before, doing{c.by, c.by.Tool, c.loaded, w.ways})
	w.called(back, c.back, c, s)
	w.called(verb, c.routine, c, s)
	w.steps(c.then, doing{c.by, c.by.Tool, c.after, w.ways})
}

func (w *writer) called(verb loops.Verb, routine string, c *call, s *stop) {
	if routine == "" {
		return
	}
	out := loops.Statement{Kind: loops.Call, Verb: verb, Routine: routine, Grid: s.slots.Grid.Name, Layered: s.slots.Grid.Layered(), At: s.at}
	for d := range out.At {
		if out.At[d].List != "" && c.grouped {
			out.At[d].Number = c.part + 1
		}
	}
	w.emit(out)
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

// lead makes the source's own loops those that count or, where it is a feeder's only slot,
// those of a stop behind it. Otherwise it writes the source's slots down and counts parts: then
// the nest is nil. It reports whether the loops need the count.
func (w *writer) lead(stops []*stop) (*nest, bool) {
	source := stops[0]
	if len(source.nests) != 1 {
		w.list(source)
		return nil, false
	}
	source.at = source.nests[0].at()
	for _, s := range stops {
		if len(s.nests) != 1 {
			continue
		}
		if n := &s.nests[0]; n.size == s.slots.Len {
			return n, n.more
		}
	}
	return nil, false // from one slot to another, again and again
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
	if s.nests == nil || len(s.nests) > 1 && s.slots.Len <= longestList*len(s.nests) { // then loops would be longer
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
		w.emit(loops.Statement{Kind: loops.Count, Parts: 1})
	}
	do()
	if n.more {
		w.emit(loops.Statement{Kind: loops.Leave, Parts: limit})
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
