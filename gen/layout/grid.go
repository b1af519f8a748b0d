package layout

import (
	"math/bits"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/gen/move"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Grid is slots, laid out in one frame by a pattern.
type Grid struct {
	Name   string
	Place  diag.Place
	Source *plan.Grid // the places of the single values
	Frame  *Frame
	Part   *Part // what it holds; nil where the plan does not say

	pattern.Extent                 // how many slots there are, missing ones too
	Pattern        pattern.Pattern // how they lie
	Rotor          *Rotor          // that it is a ring of; nil for none
	Basis          []Basis         // what the plan says of that
	Stack          *Stack          // how the boxes of a stack are laid; nil for any other pattern

	Missing Slots // slots that are not there; nil for none
	gone    int   // how many those are
	Full    Slots // slots that hold a part at the start
	Flow    Flow
	// FullPlace is where that is said, and Holds what stands there where Part
	// does not say it.
	FullPlace diag.Place
	Holds     *Part
	Lies      Lies    // how those parts lie
	mixed     bool    // they are of several kinds
	present   []int32 // of a resumed job, the numbers that it begins with; nil for ids
	ids       []int32 // by slot the numbers of those that have ids, 0 for others; nil for none

	// Fit is where the slots are and what that is worth, where corners were
	// touched; nil otherwise.
	Fit *measure.Grid

	balance plan.Real // kg, that may be lacking in a ring

	// The tool at a slot that is not turned, in the frame and in the base.
	turn     geom.Rot
	in, base geom.RPY

	figures int // that rule there unless an entry has its own: their number among the layout's
}

// Basis is something in the plan that the place of a slot rests on, and where that is
// written; nowhere for slots that do not rest on it.
type Basis struct {
	What  string
	Place func(slot.Slot) diag.Place
}

// Has reports whether the slot is inside the grid and not missing.
func (g *Grid) Has(s slot.Slot) bool { return g.Inside(s) && !g.Missing.Has(g.Index(s)) }

// At is the TCP's position at a slot, in the grid's frame, mm.
func (g *Grid) At(s slot.Slot) geom.Vec {
	at, _ := g.Pattern.At(s)
	return at
}

// Points are the tool's pose at a slot: written in the frame, and in the base.
func (g *Grid) Points(s slot.Slot) (in, base move.Point) {
	g.SetPoints(&in, &base, s, geom.Vec{})
	return in, base
}

// SetPoints is Points, put where they are to be, and moved by as much in the frame: each move has two,
// and copying values of six figures takes longer than working them out.
func (g *Grid) SetPoints(in, base *move.Point, s slot.Slot, off geom.Vec) {
	at, turned := g.Pattern.At(s)
	in.Vec = at.Add(off)
	g.Frame.Base.Put(&base.Vec, &in.Vec)
	in.RPY = g.in
	base.RPY = g.base
	if turned != 0 {
		turn := geom.RotZ(turned).Mul(g.turn)
		in.RPY, base.RPY = turn.RPY(), g.Frame.Base.R.Mul(turn).RPY()
	}
}

// Turn is how the tool is turned at slots that are not turned themselves, in the grid's frame.
func (g *Grid) Turn() geom.RPY { return g.in }

// Wide is how many columns the grid has, in words.
func (g *Grid) Wide() string {
	if g.Columns == 1 {
		return "1 column"
	}
	return g.Across() + " columns"
}

// there is how many slots there are.
func (g *Grid) there() int { return g.Size() - g.gone }

// Slots is a set of slots of one grid by index. The nil set is empty.
type Slots []uint64

// NewSlots is an empty set with room for n slots.
func NewSlots(n int) Slots { return make(Slots, (n+63)/64) }

// Has reports whether slot i is in the set.
func (s Slots) Has(i int) bool { return s != nil && s[i/64]&(1<<(i%64)) != 0 }

// Add puts slot i into the set.
func (s Slots) Add(i int) { s[i/64] |= 1 << (i % 64) }

// Remove takes slot i out of the set.
func (s Slots) Remove(i int) { s[i/64] &^= 1 << (i % 64) }

// count is how many there are in the set.
func (s Slots) count() int {
	n := 0
	for _, word := range s {
		n += bits.OnesCount64(word)
	}
	return n
}

func (r *resolver) grids() {
	for _, g := range r.plan.Grids {
		grid := r.grid(g)
		r.gridOf[g.Name.V] = grid
		if grid != nil {
			r.out.Grids = append(r.out.Grids, grid)
		}
	}
	r.rotors()
}

func (r *resolver) grid(g *plan.Grid) *Grid {
	grid := &Grid{Name: g.Name.V, Place: g.Name.Place, Source: g, Frame: r.frame(g.Frame), Part: lookUp(r, "part", g.Part, r.partOf)}
	if !g.Frame.IsSet() {
		grid.Frame = nil
	}
	if grid.Pattern = r.pattern(grid, g); grid.Pattern == nil || grid.Frame == nil {
		return nil
	}
	grid.Extent, grid.turn = grid.Pattern.Extent(), pointingDown.Rot()
	if g.RPY.IsSet() {
		grid.turn = rpy(g.RPY).Rot()
	}
	grid.in, grid.base = grid.turn.RPY(), grid.Frame.Base.R.Mul(grid.turn).RPY()
	if !r.flow(grid, g) {
		return nil
	}
	if !r.slots(grid, g) {
		return nil // how many slots or parts there are is anybody's guess
	}
	return grid
}

// slots says which slots are there, how far off, and which of them hold a part. What a flag
// calls missing today may have an offset in the plan, and be filled there: then it is neither.
func (r *resolver) slots(grid *Grid, g *plan.Grid) bool {
	var planned, today []plan.Text
	for _, text := range g.Missing {
		if plan.Typed(text.Place) {
			today = append(today, text)
		} else {
			planned = append(planned, text)
		}
	}
	missing, ok := r.slotSet(grid, planned)
	broken, also := r.slotSet(grid, today)
	grid.Missing = missing
	if ok {
		r.offsets(grid, g)
	}
	if plan.Typed(g.Filled.Place) || g.Contents != nil && plan.Typed(g.Contents.File.Place) {
		grid.Missing = missing.with(broken) // what is said today is not so by mistake
	}
	full, known := r.full(grid, g, broken)
	grid.Missing, grid.Full = missing.with(broken), full.without(broken)
	grid.gone = grid.Missing.count()
	if grid.FullPlace = g.Filled.Place; g.Contents != nil {
		grid.FullPlace = g.Contents.File.Place
	}
	return ok && also && known
}

// with is a set and one more; either may be nil.
func (s Slots) with(more Slots) Slots {
	if s == nil {
		return more
	}
	both := slices.Clone(s)
	for i, word := range more {
		both[i] |= word
	}
	return both
}

// without takes some slots out of a set, which may be nil.
func (s Slots) without(some Slots) Slots {
	for i, word := range some {
		if s != nil {
			s[i] &^= word
		}
	}
	return s
}

// full is the set of slots that hold a part at the start, those that are broken today too.
func (r *resolver) full(grid *Grid, g *plan.Grid, broken Slots) (Slots, bool) {
	if g.Filled.Unread {
		return nil, false
	}
	if g.Contents != nil {
		return r.contents(grid, g, broken)
	}
	if grid.Flow == In {
		return r.slotsOf(grid, plan.Filled{All: true})
	}
	if !g.Filled.All && g.Filled.Slots == nil {
		return NewSlots(grid.Size()), true
	}
	if !g.Part.IsSet() && !g.Written.Has("part") { // a part that was refused has its own finding
		r.noPart(grid, g.Filled.Place, "is filled")
	}
	return r.slotsOf(grid, g.Filled)
}

// noPart reports a grid that does not say what stands in it.
func (r *resolver) noPart(g *Grid, at diag.Place, holds string) {
	r.list.Errorf("part-unknown", at, "the grid %q %s, but does not say with which part", g.Name, holds).
		WithHint("add \"part:\" to the grid")
}

// slotsOf is the set that "filled" names.
func (r *resolver) slotsOf(g *Grid, filled plan.Filled) (Slots, bool) {
	if !filled.All {
		set, ok := r.slotSet(g, filled.Slots)
		if set == nil {
			set = NewSlots(g.Size())
		}
		return set, ok
	}
	full := NewSlots(g.Size())
	for i := range g.Size() {
		if !g.Missing.Has(i) {
			full.Add(i)
		}
	}
	return full, true
}

// slotSet is the set that one or several selections name; false when one of
// them is wrong.
func (r *resolver) slotSet(g *Grid, texts []plan.Text) (Slots, bool) {
	if texts == nil {
		return nil, true
	}
	set, good := NewSlots(g.Size()), true
	for _, text := range texts {
		rects, ok := r.selection(g, text, text.V)
		if !ok || !r.look(sized(rects), text.Place) {
			good = false
			continue
		}
		each(g, rects, ByRow, false, func(s slot.Slot) bool { set.Add(g.Index(s)); return true })
	}
	return set, good
}
