package scene

import (
	"strconv"
	"strings"

	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// mostRunes is how much is shown of one line, or of a note.
const mostRunes = 200

// appendWords is a move in words that can be read aloud.
func appendWords(b []byte, m *move.Move) []byte {
	b = append(b, m.Kind.String()...)
	switch m.Kind {
	case move.Travel, move.Straight:
		b = m.Target.Append(append(b, " to "...))
		return append(appendShort(append(b, ", "...), m.Speed), " mm/s"...)
	case move.Grip, move.Release:
		if m.Target.Grid != "" {
			b = m.Target.Append(append(b, " at "...))
		}
		b = strconv.AppendInt(append(b, ", output "...), int64(m.Signal), 10)
		return append(append(b, ' '), wording.Level(m.Level)...)
	case move.Note:
		return append(append(b, ": "...), wording.Shorten(strings.Join(strings.Fields(m.Text), " "), mostRunes)...)
	case move.Select, move.Set, move.Await, move.Dwell:
	}
	return append(append(b, ": "...), m.Describe()...)
}

// appendShort is a speed to a tenth, without a needless zero.
func appendShort(b []byte, v float64) []byte {
	b = strconv.AppendFloat(b, v, 'f', 1, 64)
	if n := len(b) - 2; string(b[n:]) == ".0" {
		b = b[:n]
	}
	return b
}
