package render

import "gridferry/gen/move"

// ends is where a transfer's part comes from and goes to: the slots of its
// first grip and of the release after that. In a prove-out nothing may be gripped;
// then the roles say it, with which the arm goes down to either slot.
type ends struct {
	transfer int
	id       *string // of the part; nil where it has none
	from, to move.Target
}

func (e *ends) known() bool { return !e.from.IsZero() && !e.to.IsZero() }

// endsOf appends those of the transfers whose parts are carried at once, in their order, or of one alone, as
// far as its first moves say them. They are those of one unit, and others may follow.
func endsOf(all []ends, moves []move.Move) []ends {
	unit := moves[0].Unit()
	all = append(all, ends{transfer: unit})
	var last move.Target
	for i := range moves[:min(len(moves), mostAhead)] {
		m := &moves[i]
		if m.Unit() != unit || m.Group == 0 && all[0].known() {
			break
		}
		if m.Kind.IsMotion() {
			last = m.Target
		}
		for all[len(all)-1].transfer < max(m.Carries(), m.Transfer+m.Zones-1) {
			all = append(all, ends{transfer: all[len(all)-1].transfer + 1})
		}
		all[m.Carries()-unit].see(m, last)
	}
	return all
}

// see takes in a move of the transfer; last is where the arm went last.
func (e *ends) see(m *move.Move, last move.Target) {
	at := m.Target
	if at.IsZero() {
		at = last
	}
	if m.ID != nil {
		e.id = m.ID
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
}
