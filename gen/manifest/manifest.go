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

// Manifest is the way of every part that moves, in the order of their last transfers. Some
// fifty bytes are held for each, and four for each slot of the grids that they come to.
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
	transfer int32   // the last
	halt     int32   // the last, from 1; 0 for none
}

// halt is a slot between two others of a way.
type halt struct {
	place
	before int32 // the one before it, from 1; 0 for none
}

// place is a slot of a grid of the layout.
type place struct{ grid, slot int32 }

// Of lets a list go by that was made of a layout.
func Of(l *layout.Layout, moves iter.Seq[timing.Timed]) *Manifest {
	f := follower{
		Manifest: &Manifest{layout: l}, grids: map[string]int32{}, stands: make([][]int32, len(l.Grids)), carried: map[int]int{},
	}
	for i, g := range l.Grids {
		f.grids[g.Name] = int32(i)
	}
	parts := 0
	for _, e := range l.Entries {
		parts += e.Parts // those of a later entry may have moved already
	}
	f.ways = make([]way, 0, parts)
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
		part := f.layout.PartIn(g)
		if m.ID != nil { // a grid may hold several kinds
			part = cmp.Or(f.layout.Named(*m.ID).Part, part)
		}
		f.begin(m, at, part)
		return
	}
	i := int(stands[at.slot]) - 1
	f.halts = append(f.halts, halt{at, f.ways[i].halt})
	f.ways[i].halt = int32(len(f.halts))
	f.carried[m.Carries()] = i
}

// begin is the way of a part that has not moved yet.
func (f *follower) begin(m *move.Move, from place, part *layout.Part) {
	f.carried[m.Carries()] = len(f.ways)
	f.ways = append(f.ways, way{id: m.ID, part: part, from: from})
}

func (f *follower) put(m *move.Move, seconds float64) {
	g, at := f.place(m)
	if _, taken := f.carried[m.Carries()]; !taken { // a resumed job began with it in the gripper
		h := f.layout.Held
		f.begin(m, place{f.grids[h.Grid.Name], int32(h.Grid.Index(h.Slot))}, h.Part)
	}
	i := f.carried[m.Carries()]
	delete(f.carried, m.Carries())
	w := &f.ways[i]
	w.to, w.transfer, w.at = at, int32(m.Carries()), seconds
	if f.stands[at.grid] == nil {
		f.stands[at.grid] = make([]int32, g.Size())
	}
	f.stands[at.grid][at.slot] = int32(i) + 1
}
