package render

import "gridferry/gen/move"

// survey is what a program's head says about all the moves.
type survey struct {
	move.Counts
	travel, straight float64 // the fastest, mm/s
	blends           bool
}

// surveyOf goes through the list once before anything is written.
func surveyOf(job move.Job, moves move.Seq) survey {
	s := survey{Counts: job.Counts}
	if s.Moves == 0 {
		s.Counts = move.Count(moves)
	}
	for m := range moves {
		switch m.Kind {
		case move.Travel:
			s.travel = max(s.travel, m.Speed)
		case move.Straight:
			s.straight = max(s.straight, m.Speed)
		}
		s.blends = s.blends || m.Blend > 0
	}
	return s
}

// ends finds where a transfer's part comes from and goes to: the slots of its
// first grip and of the release after that. In a first run nothing may be gripped;
// then the roles tell, with which the arm goes down to either slot.
type ends struct {
	from, to, last move.Target
}

// see takes the next move of the transfer and tells when both ends are known.
func (e *ends) see(m move.Move) bool {
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
	case m.Role == move.DownGoal && !e.from.IsZero() && e.to.IsZero():
		e.to = m.Target
	}
	return e.known()
}

func (e *ends) known() bool { return !e.from.IsZero() && !e.to.IsZero() }
