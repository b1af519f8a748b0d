package expand

import "gridferry/gen/move"

// output numbers the moves, settles how each motion ends, and passes the list on in
// batches. Whether the arm may fly by a point depends on what comes next: only
// another motion lets it go on; a gripper, an output, a wait or the end makes it
// stop. So a motion, with the selects and notes behind it, stays in the batch until
// that is known.
type output struct {
	yield func(piece []move.Move) bool
	flyBy float64 // mm, of the motion that is held, where its end is no stop
	n     int
	piece []move.Move
	held  int // where in the piece the motion is whose end is not settled; none if below 0
	over  bool
}

func newOutput(size int, yield func([]move.Move) bool) output {
	return output{yield: yield, piece: make([]move.Move, 0, size), held: none}
}

const none = -1

// mostHeld bounds how far a motion waits: a plan may hold a million notes in
// a row.
const mostHeld = 16

// add begins the next move, to be filled in before the one after it; nil when nobody
// wants any more.
func (o *output) add(kind move.Kind, role move.Role) *move.Move {
	switch kind {
	case move.Select, move.Note:
		if o.held >= 0 && len(o.piece)-o.held >= mostHeld {
			o.settle(false)
		}
	case move.Travel, move.Straight:
		o.settle(true)
	case move.Grip, move.Release, move.Set, move.Await, move.Dwell:
		o.settle(false)
	}
	if len(o.piece) == cap(o.piece) {
		o.pass()
	}
	if o.over {
		return nil
	}
	if kind.IsMotion() {
		o.held = len(o.piece)
	}
	o.n++
	o.piece = o.piece[:len(o.piece)+1]
	m := &o.piece[len(o.piece)-1]
	*m = move.Move{}
	m.N, m.Kind, m.Role = o.n, kind, role
	return m
}

// again is the last n moves, and room for as many behind them: nil where they are not all there any more, or there is no room,
// or the last of them is not a motion whose end is not settled.
func (o *output) again(n int) (last, next []move.Move) {
	end := len(o.piece)
	if n == 0 || end < n || cap(o.piece)-end < n || o.held != end-1 {
		return nil, nil
	}
	return o.piece[end-n:], o.piece[end : end+n]
}

// took adds n moves that were written into the room behind the last one: the first motion of them follows at once, and the last one is held.
func (o *output) took(n int) {
	o.settle(true)
	o.piece = o.piece[:len(o.piece)+n]
	o.n += n
	o.held = len(o.piece) - 1
}

// settle says how the held motion ends; on says that another motion follows at once.
func (o *output) settle(on bool) {
	if o.held >= 0 && on && !atSlot(&o.piece[o.held]) {
		o.piece[o.held].FlyBy = o.flyBy
	}
	o.held = none
}

// pass passes on what is settled. What is not moves to the front of the next batch.
func (o *output) pass() {
	if o.over {
		return
	}
	settled := len(o.piece)
	if o.held >= 0 {
		settled, o.held = o.held, 0
	}
	rest := o.piece[settled:]
	o.over = !o.yield(o.piece[:settled])
	o.piece = append(o.piece[:0], rest...)
}

// done passes on what is left.
func (o *output) done() {
	if o.settle(false); len(o.piece) > 0 && !o.over {
		o.pass()
	}
}

// stop makes the arm stop where the held motion ends.
func (o *output) stop() { o.settle(false) }

// atSlot reports whether a motion ends at a slot, where the arm always stops.
func atSlot(m *move.Move) bool { return m.Target.Grid != "" && !m.Target.Approach }
