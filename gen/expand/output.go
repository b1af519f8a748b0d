package expand

import "gridferry/gen/move"

// output numbers the moves and settles how each motion ends. Whether the arm
// may fly by a point depends on what comes next: only another motion lets it
// go on; a gripper, an output, a wait or the end makes it stop. So one motion,
// with the selects and notes behind it, is held back until that is known.
type output struct {
	yield func(move.Move) bool
	blend float64 // mm, of points on the way
	n     int
	held  []move.Move
}

func (o *output) put(m move.Move) bool {
	switch {
	case m.Kind == move.Select || m.Kind == move.Note && !m.Pause:
		if len(o.held) > 0 && len(o.held) < mostHeld {
			o.held = append(o.held, m)
			return true
		}
		return o.flush(false) && o.pass(m)
	case m.Kind.IsMotion():
		going := o.flush(!o.turnsBack(&m))
		o.held = append(o.held, m)
		return going
	default:
		return o.flush(false) && o.pass(m)
	}
}

// mostHeld bounds how far a motion waits: a plan may hold a million notes in
// a row.
const mostHeld = 16

// flush lets the held motion go; on tells that another motion follows at once.
func (o *output) flush(on bool) bool {
	for i := range o.held {
		m := &o.held[i]
		if on && m.Kind.IsMotion() && !atSlot(m) {
			m.Blend = o.blend
		}
		if !o.pass(*m) {
			return false
		}
	}
	o.held = o.held[:0]
	return true
}

// turnsBack tells whether the next motion goes back down the line that the held one
// came up: a slot's own line, which no arm can round a corner into.
func (o *output) turnsBack(next *move.Move) bool {
	return len(o.held) > 0 && o.held[0].Kind == move.Straight && next.Kind == move.Straight
}

// atSlot tells whether a motion ends at a slot, where the arm always stops.
func atSlot(m *move.Move) bool { return m.Target.Grid != "" && !m.Target.Approach }

func (o *output) pass(m move.Move) bool {
	o.n++
	m.N = o.n
	return o.yield(m)
}
