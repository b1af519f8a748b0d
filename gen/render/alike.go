package render

import (
	"math"

	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// kin is the moves that were written before, of each sort one: with it was settled what the next one of its sort is written with, but
// for what is its own. Programs have few sorts, in the same turn for every part.
type kin struct {
	known  []known
	last   int // the sort of the move before
	oldest int // the one that is forgotten next

	found, missed int // moves that were of a known sort, that were not
}

// known is one sort of moves.
type known struct {
	like    move.Move
	before  chosen // by the select before it
	settled *blocks.Settled
	lines   []byte // in the program, where they are always the same; else nil
	count   int    // of these
	next    int    // the sort of the move that came behind one the last time
}

// mostKin is how many sorts are remembered.
const mostKin = 32

// learns reports whether it pays to settle one more: not where hardly any move is like one before.
func (k *kin) learns() bool { return k.missed <= 2*mostKin+k.found }

// find is what is known of moves like this one; nil for nothing.
func (k *kin) find(v *viewer, m *move.Move) *known {
	at := k.sort(v, m)
	if at < 0 {
		k.missed++
		return nil
	}
	k.found++
	k.known[k.last].next, k.last = at, at
	return &k.known[at]
}

// sort is the place of a move's sort; below 0 for none that is known.
func (k *kin) sort(v *viewer, m *move.Move) int {
	if len(k.known) == 0 {
		return -1
	}
	if next := k.known[k.last].next; k.known[next].is(v, m) {
		return next
	}
	for i := range k.known {
		if k.known[i].is(v, m) {
			return i
		}
	}
	return -1
}

// keep remembers a sort of moves.
func (k *kin) keep(sort known) {
	at := k.oldest
	if len(k.known) < mostKin {
		at = len(k.known)
		k.known = append(k.known, known{})
	} else {
		k.oldest = (at + 1) % mostKin
	}
	k.known[k.last].next = at
	sort.next = at
	k.last, k.known[at] = at, sort
}

// is reports whether a move is of the sort: whether all that its view has is the same but for what is a move's own.
func (k *known) is(v *viewer, m *move.Move) bool {
	a := &k.like
	switch {
	case a.Kind != m.Kind, a.Pause || m.Pause || a.ByHand || m.ByHand,
		a.First != m.First, a.Level != m.Level, a.GoOn != m.GoOn, a.Negated != m.Negated,
		a.Target.Approach != m.Target.Approach, (a.Target.Grid == "") != (m.Target.Grid == ""),
		a.FrameNumber != m.FrameNumber, a.ToolNumber != m.ToolNumber, a.Signal != m.Signal, a.Spread != m.Spread,
		!sameBits(a.Load, m.Load), !sameBits(a.Speed, m.Speed), !sameBits(a.FlyBy, m.FlyBy), !sameBits(a.Seconds, m.Seconds),
		!sameBits(a.Turn, m.Turn), a.Frame != m.Frame, a.Tool != m.Tool, a.Text != m.Text:
		return false
	case m.Kind.IsMotion():
		return v.family.Coordinates(a).RPY.Is(&v.family.Coordinates(m).RPY)
	case m.Kind == move.Select:
		return k.before == v.before
	}
	return true
}

func sameBits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }
