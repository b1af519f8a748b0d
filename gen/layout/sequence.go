package layout

import (
	"iter"

	"gridferry/gen/slot"
)

// Sequence is the slots of one stop in the order in which parts use them. It
// is worked out as it is read, so that a million slots need no list: only what
// cannot be worked out again, the choice among a grid's slots, is kept.
type Sequence struct {
	Grid *Grid
	Len  int

	rects    []Rect
	order    Order
	topFirst bool
	again    bool    // begins anew behind its last slot: one slot that serves every part in turn, or a feeder
	only     Slots   // the slots that were chosen; nil for all
	except   Slots   // while choosing: those that are taken
	skip     int     // while choosing: so many of the first rectangle are of no use
	list     []int32 // the same where few were chosen: their indexes, in order
}

// Cursor goes through a sequence.
type Cursor struct {
	s    *Sequence
	n    int // slots given
	rect int
	k    int // within the rectangle
}

// Cursor starts at the first slot.
func (s *Sequence) Cursor() Cursor { return Cursor{s: s, k: s.skip} }

// Next is the next slot; false after the last one.
func (c *Cursor) Next() (slot.Slot, bool) {
	s := c.s
	if c.n == s.Len {
		return slot.Slot{}, false
	}
	c.n++
	if s.list != nil {
		return s.Grid.Slot(int(s.list[c.n-1])), true
	}
	for c.rect < len(s.rects) {
		r := s.rects[c.rect]
		for c.k < r.size() {
			at := r.nth(c.k, s.order, s.topFirst)
			c.k++
			if !s.takes(at) {
				continue
			}
			return at, true
		}
		if c.rect, c.k = c.rect+1, 0; s.again && c.rect == len(s.rects) {
			c.rect = 0 // some slot is there, or nothing would go through the sequence
		}
	}
	return slot.Slot{}, false
}

// Walk is what a sequence goes through before the choice among its slots: its
// rectangles one after the other, each in the order.
type Walk struct {
	Rects    []Rect
	Order    Order
	TopFirst bool // layers from the top one down
	Again    bool // begins anew behind its last slot
}

// Walk says how the sequence goes.
func (s *Sequence) Walk() Walk { return Walk{s.rects, s.order, s.topFirst, s.again} }

// Nth is slot k, from 0, of rectangle r, the chosen and the others alike.
func (w Walk) Nth(r Rect, k int) slot.Slot { return r.nth(k, w.Order, w.TopFirst) }

func (s *Sequence) takes(at slot.Slot) bool {
	if !s.Grid.Inside(at) {
		return false
	}
	i := s.Grid.Index(at)
	return !s.Grid.Missing.Has(i) && (s.only == nil || s.only.Has(i)) && !s.except.Has(i)
}

// All is every slot of the sequence.
func (s *Sequence) All() iter.Seq[slot.Slot] {
	return func(yield func(slot.Slot) bool) {
		c := s.Cursor()
		for at, ok := c.Next(); ok; at, ok = c.Next() {
			if !yield(at) {
				return
			}
		}
	}
}

// looks is how many slots a cursor has looked at.
func (c *Cursor) looks() int { return sized(c.s.rects[:c.rect]) + c.k - c.s.skip }

// keep fixes the choice of the first n slots as they stand now, in whichever
// form is the smaller one, and says how many slots it looked at.
func (s *Sequence) keep(n int) (looks int) {
	s.Len = n
	if s.again {
		return 0
	}
	chosen := s.Cursor()
	switch few := s.Grid.Size() / 32; {
	case n > few && n == count(s.Grid, s.rects):
		s.only = nil // there is nothing to choose
	case n > few:
		set := NewSlots(s.Grid.Size())
		for at, ok := chosen.Next(); ok; at, ok = chosen.Next() {
			set.Add(s.Grid.Index(at))
		}
		looks, s.only = chosen.looks(), set
	default:
		list := make([]int32, 0, n)
		for at, ok := chosen.Next(); ok; at, ok = chosen.Next() {
			list = append(list, int32(s.Grid.Index(at)))
		}
		looks, s.only, s.list = chosen.looks(), nil, list
	}
	s.except, s.skip = nil, 0
	return looks
}

// reordered is the same chosen slots in another order, and how many slots were looked at.
func (s *Sequence) reordered(o Order, topFirst bool) (again Sequence, looks int) {
	again = Sequence{Grid: s.Grid, Len: s.Len, rects: s.rects, order: o, topFirst: topFirst, again: s.again, only: s.only}
	if s.list != nil {
		again.only = NewSlots(s.Grid.Size())
		for _, i := range s.list {
			again.only.Add(int(i))
		}
		looks = len(again.only) + again.keep(s.Len)
	}
	return again, looks
}
