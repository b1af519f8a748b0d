package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// Slots follows every slot through the moves. It is given to Run as a watcher, and
// read afterwards.
type Slots struct {
	Grids  []*GridSlots
	layout *layout.Layout
	byGrid map[*layout.Grid]*GridSlots
}

// GridSlots is one grid before the first move and after the last one. First
// and Last hold, by slot index, the first and the last transfer that took a
// part from the slot or put one there, 0 for none, and Times how many did; they
// are nil when the whole grid stays as it is.
type GridSlots struct {
	*layout.Grid
	Before, After layout.Slots
	First, Last   []int32
	Times         []int32
}

// NewSlots is every grid of a layout as it is before the first move.
func NewSlots(l *layout.Layout) *Slots {
	s := &Slots{layout: l, byGrid: map[*layout.Grid]*GridSlots{}}
	for _, g := range l.Grids {
		slots := &GridSlots{Grid: g, Before: g.Full, After: append(layout.Slots(nil), g.Full...)}
		s.Grids = append(s.Grids, slots)
		s.byGrid[g] = slots
	}
	return s
}

// Kinds is what changes slots.
func (s *Slots) Kinds() []move.Kind { return move.Handlings }

// See takes in a move.
func (s *Slots) See(m *move.Move, scene *Scene) {
	if scene.Grid == nil {
		return
	}
	g := s.byGrid[scene.Grid.Grid]
	if m.Takes() {
		g.Take(g.After, scene.Slot)
	} else {
		g.Put(g.After, scene.Slot)
	}
	if g.First == nil {
		g.First, g.Last, g.Times = make([]int32, g.Size()), make([]int32, g.Size()), make([]int32, g.Size())
	}
	if g.First[scene.Slot] == 0 {
		g.First[scene.Slot] = int32(m.Transfer)
	}
	g.Last[scene.Slot] = int32(m.Transfer)
	g.Times[scene.Slot]++
}

// Done has nothing to report.
func (s *Slots) Done() {}

// span is the first and the last transfer that changed the grid; 0, 0 for none.
func (g *GridSlots) span() (first, last int32) {
	for i, f := range g.First {
		if f != 0 && (first == 0 || f < first) {
			first = f
		}
		last = max(last, g.Last[i])
	}
	return first, last
}

// count is the number of parts in a set of slots.
func count(slots layout.Slots, size int) int {
	n := 0
	for i := range size {
		if slots.Has(i) {
			n++
		}
	}
	return n
}
