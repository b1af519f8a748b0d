package expand

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// again is what it takes to make a transfer like the one before it. Mostly they differ in numbers and slots only: then
// the moves, which are still in the piece, are copied. Without it "check" takes 1.25 times the work.
type again struct {
	begin begin
	moves int // of the last transfer; 0 where it is not to be made again
	times int // that one was
}

// begin is what the moves of a transfer depend on when it begins, beside its slots and where the arm stands.
type begin struct {
	leg      *layout.Leg
	at       *layout.Tool // whose TCP stands at a known place; nil where none does
	fitted   *layout.Tool
	selected selection
	spread   *move.Spread
	gripper  gripper
	inside   inside
	byHand   bool
}

func (x *expander) beginOf(l *layout.Leg) begin {
	b := begin{l, x.at.tool, x.fitted, x.selected, x.spread, x.grippers[x.fitted.Number-1], x.inside, x.byHand}
	if !x.at.known {
		b.at = nil
	}
	return b
}

// mayRepeat takes down a transfer that began so and has so many moves, where nothing in it may belong to it alone: it is of one part, with one tool, without
// steps. Left is whether a point was left out because the arm stood there already.
func (x *expander) mayRepeat(b *begin, e *layout.Entry, moves int, left bool) {
	l := b.leg
	steps := len(l.OverFrom) + len(l.Taken) + len(l.OverTo) + len(l.Put)
	if left || steps > 0 || e.AtOnce > 1 || len(x.carried) > 0 || b.at != x.fitted || !x.by.StopPlace.IsZero() ||
		x.l.Figures(e, l.From.Grid).Tool != x.fitted || x.by.Tool != x.fitted {
		moves = 0
	}
	x.again.begin, x.again.moves = *b, moves
}

// repeat makes a transfer as the last one was made; false, and nothing is made, where that might not be as it would be made by itself.
func (x *expander) repeat(b *begin, e *layout.Entry) bool {
	moves, next := x.out.again(x.again.moves)
	if moves == nil || *b != x.again.begin {
		return false
	}
	var overFrom, from, overTo, to spot
	l, source, destination := b.leg, x.group.from[0], x.group.to[0]
	x.by = x.l.Figures(e, l.From.Grid)
	x.above(&overFrom, l.From.Grid, source)
	x.inSlot(&from, l.From.Grid, source)
	x.by = x.l.Figures(e, l.To.Grid)
	x.above(&overTo, l.To.Grid, destination)
	x.letGo(&to, l.To.Grid, destination)
	if same(&x.at.base, &overFrom.base) || same(&overFrom.base, &overTo.base) {
		return false
	}
	x.make(x.group.first)
	hung := layout.Hung{Part: x.l.PartOf(x.idOf(0), l.Part), By: x.fitted}
	if hung.Part != nil {
		hung.At = x.lying.Take(l.From.Grid, source, hung.Part, from.base.RPY)
	}
	if hung != x.hung {
		return false
	}
	at := [move.NumRoles]*spot{
		move.OverSource: &overFrom, move.DownSource: &from, move.TakeHold: &from, move.UpSource: &overFrom,
		move.OverDestination: &overTo, move.DownDestination: &to, move.LetGo: &to, move.UpDestination: &overTo,
	}
	copy(next, moves)
	stands := &x.at.base
	for i := range next {
		m := &next[i]
		m.N += len(next)
		m.Transfer, m.ID = x.transfer, x.id
		p := at[m.Role]
		if p != nil {
			m.Target = p.target
		}
		if m.Kind.IsMotion() {
			if p != nil {
				m.At, m.Base = p.in, p.base
			}
			if same(stands, &m.Base) || m.Target.Grid == "" && (same(&m.Base, &overFrom.base) || same(&m.Base, &overTo.base)) {
				return false
			}
			stands = &m.Base
		}
	}
	x.out.took(len(next))
	x.at.base = overTo.base
	x.lineFrom = position{to.base, x.fitted, true}
	x.lying.Put(l.To.Grid, destination, hung.Part, hung.At, to.base.RPY)
	x.again.times++
	return true
}
