package nest

import (
	"iter"
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/loops"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
)

// nest is loops, one in the other, over a block of slots.
type nest struct {
	grid   *layout.Grid
	lo, hi slot.Slot
	loops  []loops.Loop // the outermost first; directions of one slot have none
	skips  []loops.Box
	size   int  // slots that it gives
	more   bool // the block holds slots after the last one it gives
}

// nests are the loops that give a sequence's slots in its order; nil where no loops
// have that order.
func nests(s *layout.Sequence) []nest {
	walk, left := s.Walk(), s.Len
	next, stop := iter.Pull(s.All())
	defer stop()
	at, ok := next()
	if walk.Again {
		if second, more := next(); more && second != at { // a feeder of several slots
			return nil
		}
		return []nest{{grid: s.Grid, lo: at, hi: at, size: 1}}
	}
	var all []nest
	for _, rect := range walk.Rects {
		r := run{walk: walk, rect: rect, grid: s.Grid, cells: pattern.Even(s.Grid.Rows, s.Grid.Columns, s.Grid.Layers)}
		for k := 0; k < rect.Size() && ok; k++ {
			if walk.Nth(rect, k) == at {
				r.take(k, at)
				at, ok = next()
			}
		}
		if r.size > 0 {
			all = append(all, r.nest())
		}
		if left -= r.size; left == 0 {
			return all
		}
	}
	return nil
}

// run is what a sequence takes of one rectangle.
type run struct {
	walk   layout.Walk
	rect   layout.Rect
	grid   *layout.Grid
	cells  pattern.Extent // numbers slots, those behind the end of a row too
	lo, hi slot.Slot      // around what is taken
	size   int
	last   int // the place of the last one in the walk
	taken  layout.Slots
}

func (r *run) take(k int, at slot.Slot) {
	if r.size == 0 {
		r.lo, r.hi, r.taken = at, at, layout.NewSlots(r.cells.Size())
	}
	r.lo = slot.Slot{Row: min(r.lo.Row, at.Row), Col: min(r.lo.Col, at.Col), Layer: min(r.lo.Layer, at.Layer)}
	r.hi = slot.Slot{Row: max(r.hi.Row, at.Row), Col: max(r.hi.Col, at.Col), Layer: max(r.hi.Layer, at.Layer)}
	r.size, r.last = r.size+1, k
	r.taken.Add(r.cells.Index(at))
}

// nest is the loops over the block around what is taken: within it the slots
// come in the same order as within the whole rectangle.
func (r *run) nest() nest {
	n := nest{grid: r.grid, lo: r.lo, hi: r.hi, loops: loopsOver(r.walk, r.rect, r.lo, r.hi), size: r.size, more: r.leftOver()}
	skipped := layout.NewSlots(r.cells.Size())
	r.untaken(func(k int, at slot.Slot) {
		if k < r.last || !n.more {
			skipped.Add(r.cells.Index(at))
		}
	})
	n.skips = boxes(&r.cells, skipped, n.lo, n.hi)
	return n
}

// leftOver reports whether the block holds slots behind the last one taken. Slots
// that are not there do not count: they are skipped like those before.
func (r *run) leftOver() bool {
	more := false
	r.untaken(func(k int, at slot.Slot) { more = more || k > r.last && r.grid.Has(at) })
	return more
}

// untaken goes through the block's slots that are not taken.
func (r *run) untaken(do func(k int, at slot.Slot)) {
	for k := range r.rect.Size() {
		if at := r.walk.Nth(r.rect, k); within(at, r.lo, r.hi) && !r.taken.Has(r.cells.Index(at)) {
			do(k, at)
		}
	}
}

func within(at, lo, hi slot.Slot) bool {
	return lo.Row <= at.Row && at.Row <= hi.Row && lo.Col <= at.Col && at.Col <= hi.Col && lo.Layer <= at.Layer && at.Layer <= hi.Layer
}

// loopsOver is the loops over a block of a rectangle; a direction of one slot
// needs none.
func loopsOver(walk layout.Walk, rect layout.Rect, lo, hi slot.Slot) []loops.Loop {
	layers := overSlots(loops.Layer, lo.Layer, hi.Layer)
	if walk.TopFirst {
		layers.From, layers.To = layers.To, layers.From
	}
	rows, columns := overSlots(loops.Row, lo.Row, hi.Row), overSlots(loops.Column, lo.Col, hi.Col)
	order := []loops.Loop{layers, rows, columns}
	switch walk.Order {
	case layout.ByColumn:
		order = []loops.Loop{layers, columns, rows}
	case layout.Serpentine:
		order[2] = serpentine(columns, rect, lo, hi)
	case layout.Backward:
		for i := range order[1:] {
			l := &order[1+i]
			l.From, l.To = l.To, l.From
		}
	case layout.ByRow, layout.Shortest, layout.Quickest, layout.Balanced:
	}
	return slices.DeleteFunc(order, func(l loops.Loop) bool { return l.From == l.To })
}

func overSlots(c loops.Counter, lo, hi int32) loops.Loop {
	return loops.Loop{Counter: c, From: int(lo) + 1, To: int(hi) + 1}
}

// serpentine is the loop over columns in which every second row of the rectangle
// runs backwards.
func serpentine(columns loops.Loop, rect layout.Rect, lo, hi slot.Slot) loops.Loop {
	columns.Backwards = loops.Even
	if rect.Lo.Row%2 == 1 {
		columns.Backwards = loops.Odd
	}
	if lo.Row != hi.Row {
		return columns
	}
	if (lo.Row-rect.Lo.Row)%2 == 1 {
		columns.From, columns.To = columns.To, columns.From
	}
	columns.Backwards = loops.Never
	return columns
}

// at is the slot that the loops stand at: counters, and numbers where a
// direction has one slot only.
func (n *nest) at() [3]loops.Index {
	at := [3]loops.Index{fixed(n.lo.Row), fixed(n.lo.Col), fixed(n.lo.Layer)}
	for _, l := range n.loops {
		at[l.Counter] = loops.Index{Counted: true, Counter: l.Counter}
	}
	return at
}

func fixed(i int32) loops.Index { return loops.Index{Number: int(i) + 1} }

// along is the slot of n when the loops of lead are what counts; false where the
// two do not go in step.
func (n *nest) along(lead *nest) ([3]loops.Index, bool) {
	at := n.at()
	shift := [3]int{int(n.lo.Row - lead.lo.Row), int(n.lo.Col - lead.lo.Col), int(n.lo.Layer - lead.lo.Layer)}
	if len(n.loops) != len(lead.loops) || len(n.skips) != len(lead.skips) {
		return at, false
	}
	for i, l := range n.loops {
		lead := lead.loops[i]
		lead.From, lead.To = lead.From+shift[lead.Counter], lead.To+shift[lead.Counter]
		if shift[loops.Row]%2 != 0 {
			lead.Backwards = lead.Backwards.Flipped()
		}
		if l != lead {
			return at, false
		}
		at[l.Counter].Number = shift[l.Counter]
	}
	for i, b := range n.skips {
		if b != lead.skips[i].Moved(shift) {
			return at, false
		}
	}
	return at, true
}
