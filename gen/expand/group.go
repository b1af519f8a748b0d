package expand

import (
	"cmp"
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// group is the parts that the arm carries at once along a leg, mostly one. The i-th part
// hangs in the i-th zone of the tool.
type group struct {
	first    int         // the transfer of its first part; the others follow
	from, to []slot.Slot // by part
	ids      []int32     // by part, the numbers of those that have ids; nil where none has
}

// pair is the slots of a leg that are still to come.
type pair struct{ from, to layout.Cursor }

func pairOf(l *layout.Leg) pair { return pair{l.From.Cursor(), l.To.Cursor()} }

// next is the next n pairs of slots as a group; false where there are not so many, which
// cannot be: both sides were counted.
func (x *expander) next(p *pair, n int) bool {
	g := &x.group
	g.first, g.from, g.to = x.done+1, g.from[:0], g.to[:0]
	x.done += n
	for range n {
		from, ok := p.from.Next()
		to, also := p.to.Next()
		if !ok || !also {
			return false
		}
		g.from, g.to = append(g.from, from), append(g.to, to)
	}
	return true
}

// identify takes the ids of a group's parts from slot to slot. A worklist may say which part it is.
func (x *expander) identify(l *layout.Leg, said int32) {
	if x.ids == nil {
		return
	}
	g := &x.group
	g.ids = g.ids[:0]
	for _, s := range g.from {
		i := l.From.Grid.Index(s)
		g.ids = append(g.ids, cmp.Or(said, x.ids.At(l.From.Grid, i)))
		x.ids.Put(l.From.Grid, i, 0)
	}
	for i, s := range g.to {
		x.ids.Put(l.To.Grid, l.To.Grid.Index(s), g.ids[i])
	}
}

// idOf is the number of part i of the group; 0 where it has no id.
func (x *expander) idOf(i int) int32 {
	if i < 0 || i >= len(x.group.ids) || x.transfer == 0 {
		return 0
	}
	return x.group.ids[i]
}

// byLeg takes every part along one leg before the next leg begins.
func (x *expander) byLeg(e *layout.Entry) bool {
	for i := range e.Legs {
		slots := pairOf(&e.Legs[i])
		for left := e.Parts; left > 0; left -= e.AtOnce {
			if !x.next(&slots, min(left, e.AtOnce)) || !x.carry(e, i) {
				return false
			}
		}
	}
	return true
}

// byList makes the transfers of a worklist one after the other. What one rests on is its line there: the slots' own fields.
func (x *expander) byList(e *layout.Entry) bool {
	x.listedAt = e.Place.Line
	legs := make([]pair, len(e.Legs))
	for i := range e.Legs {
		legs[i] = pairOf(&e.Legs[i])
	}
	for part := range e.Parts {
		leg := e.Listed.LegOf(part)
		if !x.next(&legs[leg], 1) {
			return false
		}
		x.identify(&e.Legs[leg], e.Listed.Names(part))
		if x.group.first < x.from.Transfer {
			continue
		}
		x.restOn(e.Listed.From(part))
		x.note = e.Listed.Note(part)
		x.leg = 1
		if !x.take(e, &e.Legs[leg]) {
			return false
		}
		x.restOn(e.Listed.To(part))
		if !x.put(e, &e.Legs[leg]) || !x.optionalStop() {
			return false
		}
	}
	x.listedAt = 0
	x.restOn(e.Place)
	return true
}

// byPart takes each part, or each group, along all legs before the next one starts.
func (x *expander) byPart(e *layout.Entry) bool {
	legs := make([]pair, len(e.Legs))
	for i := range e.Legs {
		legs[i] = pairOf(&e.Legs[i])
	}
	for left := e.Parts; left > 0; left -= e.AtOnce {
		for i := range legs {
			if !x.next(&legs[i], min(left, e.AtOnce)) || !x.carry(e, i) {
				return false
			}
		}
	}
	return true
}

// carry is the transfers of a group.
func (x *expander) carry(e *layout.Entry, leg int) bool {
	l := &e.Legs[leg]
	if x.identify(l, 0); x.group.first < x.from.Transfer {
		return true
	}
	x.leg = leg + 1
	begins, n, left := x.beginOf(l), x.out.n, x.left
	if x.repeat(&begins, e) {
		return true
	}
	if !x.take(e, l) || !x.put(e, l) || !x.optionalStop() {
		return false
	}
	x.mayRepeat(&begins, e, x.out.n-n, x.left > left)
	return true
}

// take picks the parts of a group, unless the gripper holds them from the start.
func (x *expander) take(e *layout.Entry, l *layout.Leg) bool {
	if x.make(x.group.first); x.l.Held != nil && x.transfer == x.from.Transfer {
		return x.noteOf()
	}
	x.by = x.l.Figures(e, l.From.Grid)
	return x.noteOf() && x.fit() && x.descents(l.From.Grid, x.group.from, func(slots []slot.Slot) bool { return x.pick(e, l, slots) && x.steps(l.Taken, move.Asked) })
}

// noteOf is the note of a line of a worklist, which comes before the arm moves for it.
func (x *expander) noteOf() bool {
	text := x.note
	x.note = ""
	return text == "" || x.step(&layout.Step{Kind: move.Note, Text: text}, move.Asked)
}

func (x *expander) put(e *layout.Entry, l *layout.Leg) bool {
	x.by = x.l.Figures(e, l.To.Grid)
	return x.descents(l.To.Grid, x.group.to, func(slots []slot.Slot) bool { return x.lay(l, slots) && x.steps(l.Put, move.Asked) })
}

// descents does something at the slots of a group: at all of them in one descent where every
// zone stands at its own slot when the first one does, or else zone by zone. The moves of one
// descent belong to the group's first transfer.
func (x *expander) descents(g *layout.Grid, slots []slot.Slot, do func([]slot.Slot) bool) bool {
	x.zone = 0
	x.make(x.group.first)
	if len(slots) == 1 || x.fitted.InOneDescent(g, slots) {
		return do(slots)
	}
	for i := range slots {
		x.zone = i
		if x.make(x.group.first + i); !do(slots[i : i+1]) {
			return false
		}
	}
	return true
}

// pick takes the parts in some slots in one descent, the first of them in the present zone.
func (x *expander) pick(e *layout.Entry, l *layout.Leg, slots []slot.Slot) bool {
	g := l.From.Grid
	var p spot
	x.above(&p, g, slots[0])
	return x.toSource(&p) && x.over(&p, l.OverFrom, &sourceRoles) && x.down(g, slots) && x.grip(g, slots, l.Part) && x.up(&p, slots, move.UpSource)
}

// lay puts parts into some slots in one descent.
func (x *expander) lay(l *layout.Leg, slots []slot.Slot) bool {
	g := l.To.Grid
	var p spot
	x.above(&p, g, slots[0])
	return x.toDestination(&p) && x.over(&p, l.OverTo, &destinationRoles) && x.askZones(len(slots), move.AskLoaded) &&
		x.lower(g, slots) && x.release(g, slots) && x.up(&p, slots, move.UpDestination)
}

// tool is the one that works now: a zone of the tool, where that has some.
func (x *expander) tool() *layout.Tool { return x.fitted.Zone(x.zone) }

// zonesAt is how many zones go down at once; 0 for one alone.
func zonesAt(slots []slot.Slot) int {
	if len(slots) == 1 {
		return 0
	}
	return len(slots)
}

// askZones waits until the inputs of the zones that work now say that each holds its part.
func (x *expander) askZones(n int, role move.Role) bool {
	for i := range n {
		if !x.ask(x.fitted.Zone(x.zone+i), role, true) {
			return false
		}
	}
	return true
}

// holding reports whether a gripper, or a zone, holds a part.
func (x *expander) holding() bool { return slices.Contains(x.grippers, closed) }
