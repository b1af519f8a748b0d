package render

import "gridferry/gen/move"

// ends finds where a transfer's part comes from and goes to: the slots of its
// first grip and of the release after that. In a prove-out nothing may be gripped;
// then the roles say it, with which the arm goes down to either slot.
type ends struct {
	from, to, last move.Target
}

// see takes the next move of the transfer and reports when both ends are known.
func (e *ends) see(m *move.Move) bool {
	if m.Kind.IsMotion() {
		e.last = m.Target
	}
	at := m.Target
	if at.IsZero() {
		at = e.last
	}
	switch {
	case m.Kind == move.Grip && e.from.IsZero():
		e.from = at
	case m.Kind == move.Release && !e.from.IsZero() && e.to.IsZero():
		e.to = at
	case m.Role == move.DownSource && e.from.IsZero():
		e.from = m.Target
	case m.Role == move.DownDestination && !e.from.IsZero() && e.to.IsZero():
		e.to = m.Target
	}
	return e.known()
}

func (e *ends) known() bool { return !e.from.IsZero() && !e.to.IsZero() }
