package readback

import (
	"strconv"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// Describe is a move as messages name it: travel to tray A1.
func Describe(m *move.Move) string {
	at := " at "
	switch m.Kind {
	case move.Select:
		return "select frame " + m.Frame + ", tool " + m.Tool
	case move.Await:
		return "await input " + strconv.Itoa(m.Signal)
	case move.Set:
		return "set output " + strconv.Itoa(m.Signal)
	case move.Travel, move.Straight:
		at = " to "
	case move.Grip, move.Release, move.Dwell, move.Note:
	}
	if m.Target.IsZero() {
		return m.Kind.String()
	}
	return m.Kind.String() + at + m.Target.String()
}

// want and got are the two sides of a delta: "x 40.000 mm".
func (d Delta) want() string {
	if d.Field == reads.Target {
		return "another target"
	}
	return d.Field.Words() + " " + d.Field.Figure(d.Want, d.Unit)
}

func (d Delta) got() string {
	if d.Lacks {
		return "none"
	}
	if d.Field == reads.Target {
		return "otherwise"
	}
	return d.Field.Figure(d.Got, d.Unit)
}

// enough is as much of a line as people know it by.
func enough(line []byte) string { return wording.Shorten(string(line), 100) }
