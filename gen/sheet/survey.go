package sheet

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// survey is what one pass over the moves finds that the plan does not say in so
// many words.
type survey struct {
	counts   move.Counts // of the job
	fastest  float64     // mm/s
	heaviest float64     // kg on the flange
	lowest   low
	widest   far
	sensed   bool // some input is waited for
	asked    bool // the gripper's among them
	endless  int  // waits without a time-out
	pauses   bool // the operator may ask for a stop after each transfer
	grids    map[string]bool
	named    []namedPart // that moved, in the order in which they did first, as many as are listed
	unlisted int         // beyond those
	rowOf    map[*string]int
}

// namedPart is a part with an id: where it was taken from first and where it was put last, by which transfer.
type namedPart struct {
	id       *string
	from, to string
	transfer int
}

// low is the lowest point that the tool centre point goes to, and far the one
// farthest from the base's axis.
type (
	low struct {
		z  float64
		at string
	}
	far struct {
		radius float64
		at     string
	}
)

func (j *Job) survey() *survey {
	s := &survey{counts: j.Counts, grids: map[string]bool{}, rowOf: map[*string]int{}}
	first := true
	for m := range j.Moves {
		s.heaviest = max(s.heaviest, m.Load)
		s.pauses = s.pauses || m.Pause
		if m.Target.Grid != "" {
			s.grids[m.Target.Grid] = true
		}
		switch m.Kind {
		case move.Travel, move.Straight:
			s.motion(&m, first)
			first = false
		case move.Await:
			s.sensed = true
			s.asked = s.asked || !m.Role.Wanted()
			if m.Seconds == 0 {
				s.endless++
			}
		case move.Grip, move.Release:
			s.identify(&m, j.Layout.Held)
		case move.Select, move.Set, move.Dwell, move.Note:
		}
	}
	return s
}

// identify takes down where a part with an id goes.
func (s *survey) identify(m *move.Move, held *layout.Held) {
	if m.ID == nil || !m.Takes() && !m.Puts() {
		return
	}
	row, known := s.rowOf[m.ID]
	if !known {
		if len(s.named) == mostNamed {
			s.unlisted++
			row = -1
		} else {
			row = len(s.named)
			s.named = append(s.named, namedPart{id: m.ID, from: m.Target.String()})
			if m.Puts() { // it was in the gripper from the start
				s.named[row].from = held.Grid.Name + " " + held.Grid.Label(held.Slot)
			}
		}
		s.rowOf[m.ID] = row
	}
	if m.Puts() && row >= 0 {
		s.named[row].to, s.named[row].transfer = m.Target.String(), m.Carries()
	}
}

func (s *survey) motion(m *move.Move, first bool) {
	s.fastest = max(s.fastest, m.Speed)
	if first || m.Base.Z < s.lowest.z {
		s.lowest = low{m.Base.Z, m.Target.String()}
	}
	if r := (geom.Vec{X: m.Base.X, Y: m.Base.Y}).Norm(); r > s.widest.radius {
		s.widest = far{r, m.Target.String()}
	}
}

// usesFrame reports whether moves are written in a frame.
func (s *survey) usesFrame(f *layout.Frame) bool { return s.counts.UsesFrame(f.Number) }
