package readback

import (
	"strconv"

	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// describe is a move as messages name it: travel to tray A1.
func describe(m *move.Move) string {
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
	return Name(d.Field) + " " + Figure(d.Field, d.Want)
}

func (d Delta) got() string {
	if d.Lacks {
		return "none"
	}
	if d.Field == reads.Target {
		return "otherwise"
	}
	return Figure(d.Field, d.Got)
}

// Name is a field's name for people.
func Name(f reads.Field) string {
	switch f {
	case reads.GoOn:
		return "going on after the time-out"
	case reads.Time:
		return "time"
	}
	return f.String()
}

// Figure is a value with its unit.
func Figure(f reads.Field, v float64) string {
	switch f {
	case reads.Level, reads.GoOn:
		return wording.Level(v != 0)
	}
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if b, err := rules.AppendFixed(nil, v, decimals(f)); err == nil && decimals(f) > 0 {
		text = string(b)
	}
	if u := Unit(f); u != "" {
		return text + " " + u
	}
	return text
}

// Unit is what a field is counted in; "" for numbers of things.
func Unit(f reads.Field) string {
	q, measured := quantityOf(f)
	if !measured {
		return ""
	}
	return map[rules.Quantity]string{
		rules.Length: "mm", rules.Limit: "mm", rules.Angle: "degrees", rules.Time: "s", rules.Speed: "mm/s", rules.Mass: "kg",
	}[q]
}

// decimals is how finely differences are told.
func decimals(f reads.Field) int {
	q, measured := quantityOf(f)
	switch {
	case !measured:
		return 0
	case q == rules.Component:
		return 6
	}
	return 4
}

// start is enough of a line to know it by.
func start(line []byte) string {
	const most = 100
	runes := []rune(string(line))
	if len(runes) <= most {
		return string(line)
	}
	return string(runes[:most]) + "…"
}
