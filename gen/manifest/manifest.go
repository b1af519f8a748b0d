// Package manifest says who ends where: of every part that a list of moves carries, the
// slot that it comes from, the one that it ends in, those between, and when it gets there.
package manifest

import (
	"cmp"
	"iter"
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/timing"
)

// Manifest is the way of every part that moves, in the order of their last transfers, and of
// those with ids that stay where they are, behind them, grid by grid. Some fifty bytes are held for each, and four for each slot of the grids that they come to.
type Manifest struct {
	layout *layout.Layout
	ways   []way
	halts  []halt // where parts stood meanwhile
}

// way is that of one part.
type way struct {
	id       *string // nil where the plan does not name it
	part     *layout.Part
	from, to place
	at       float64 // s from the start, when it is let go there
	transfer int32   // the last; 0 for a part that stays
	halt     int32   // the last, from 1; 0 for none
}

// halt is a slot between two others of a way.
type halt struct {
	place
	before int32 // the one before it, from 1; 0 for none
}

// place is a slot of a grid of the layout.
type place struct{ grid, slot int32 }

// Of lets a list go by that was made of a layout. Earlier is the moves that came before it, in
// a resumed job: nobody's way, but that of ids.
func Of(l *layout.Layout, earlier move.Seq, moves iter.Seq[timing.Timed]) *Manifest {
	f := follower{
		Manifest: &Manifest{layout: l}, grids: map[string]int32{}, stands: make([][]int32, len(l.Grids)), carried: map[int]int{},
	}
	parts := 0
	for _, e := range l.Entries {
		parts += e.Parts // those of a later entry may have moved already
	}
	f.ways = make([]way, 0, parts)
	for i, g := range l.Grids {
		f.grids[g.Name] = int32(i)
	}
	seconds := 0.0
	for t := range moves {
		seconds += t.Seconds
		switch m := t.Move; {
		case m.Takes():
			f.take(m)
		case m.Puts():
			f.put(m, seconds)
		}
	}
	slices.SortFunc(f.ways, func(a, b way) int { return int(a.transfer - b.transfer) })
	if l.HasIDs() {
		f.stay(earlier)
	}
	return f.Manifest
}

// follower knows where the parts are that have moved.
type follower struct {
	*Manifest
	grids   map[string]int32
	stands  [][]int32   // by grid and slot the number of the way of the part put there last, from 1; nil where none was
	carried map[int]int // by transfer the index of the way of the part that it carries
}

func (f *follower) place(m *move.Move) (*layout.Grid, place) {
	i := f.grids[m.Target.Grid]
	g := f.layout.Grids[i]
	return g, place{i, int32(g.Index(m.Target.Slot))}
}

// take is a pick: of a part that stands there since it was put there, or ever since.
func (f *follower) take(m *move.Move) {
	g, at := f.place(m)
	stands := f.stands[at.grid]
	if stands == nil || stands[at.slot] == 0 {
		f.begin(m, at, g)
		return
	}
	i := int(stands[at.slot]) - 1
	f.halts = append(f.halts, halt{at, f.ways[i].halt})
	f.ways[i].halt = int32(len(f.halts))
	f.carried[m.Carries()] = i
}

// begin is the way of a part that has not moved yet, and stood in a slot of a grid.
func (f *follower) begin(m *move.Move, from place, g *layout.Grid) {
	part := f.layout.PartIn(g)
	if m.ID != nil {
		part = cmp.Or(f.layout.Named(*m.ID).Part, part)
	}
	f.carried[m.Carries()] = len(f.ways)
	f.ways = append(f.ways, way{part: part, from: from})
}

func (f *follower) put(m *move.Move, seconds float64) {
	g, at := f.place(m)
	if _, taken := f.carried[m.Carries()]; !taken { // a resumed job began with it in the gripper
		h := f.layout.Held
		f.begin(m, place{f.grids[h.Grid.Name], int32(h.Grid.Index(h.Slot))}, h.Grid)
	}
	i := f.carried[m.Carries()]
	delete(f.carried, m.Carries())
	w := &f.ways[i]
	w.id = m.ID // a worklist may be the first to say it
	w.to, w.transfer, w.at = at, int32(m.Carries()), seconds
	if f.stands[at.grid] == nil {
		f.stands[at.grid] = make([]int32, g.Size())
	}
	f.stands[at.grid][at.slot] = int32(i) + 1
}

// stay adds the parts that have ids and no way, where they are after the moves that came earlier.
func (f *follower) stay(earlier move.Seq) {
	at := map[*string]place{}
	ids := f.layout.IDs()
	for k, g := range f.layout.Grids {
		for i := range g.Size() {
			if id := f.layout.ID(ids.At(g, i)); id != nil {
				at[id] = place{int32(k), int32(i)}
			}
		}
	}
	for m := range earlier {
		if !m.Puts() || m.ID == nil {
			continue
		}
		if g, to := f.place(&m); g.Feeder() {
			delete(at, m.ID) // gone
		} else {
			at[m.ID] = to
		}
	}
	for i := range f.ways {
		delete(at, f.ways[i].id)
	}
	moved := len(f.ways)
	for id, slot := range at {
		f.ways = append(f.ways, way{id: id, part: f.layout.Named(*id).Part, from: slot, to: slot})
	}
	slices.SortFunc(f.ways[moved:], func(a, b way) int {
		return cmp.Or(int(a.to.grid-b.to.grid), int(a.to.slot-b.to.slot))
	})
}
