package decode

import (
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// This file says of a form what its values are, for who offers values or turns them.

// Figure is a number that a form takes, or one of several in a list.
type Figure struct {
	Name      string         // in a list, such as "x"; "" alone
	Dimension unit.Dimension // none for a bare number
	Bound     Bound          // of a number that is not whole
	Whole     bool
	Low, High int // of a whole number, both among them
}

// Least is the smallest value that may be written, in the internal unit; false for one
// that has none. Exclusive says that it is not among them.
func (f Figure) Least() (least float64, exclusive, ok bool) {
	if f.Whole {
		return float64(f.Low), false, true
	}
	return 0, f.Bound.keyword == "exclusiveMinimum", f.Bound.keyword != ""
}

// bounded keeps which figure a form reads.
func bounded(form Form, figures ...Figure) Form {
	return made{schema: form.Schema, read: form.Read, around: form, figures: figures}
}

// Figures is the numbers that a form takes, in the order of its list where it is one;
// nil for a form of anything else.
func Figures(form Form) []Figure {
	for m, ok := form.(made); ok; m, ok = m.around.(made) {
		if m.figures != nil {
			return m.figures
		}
	}
	return nil
}

// named is where the names come from that a form takes.
type named struct {
	table string
	words []string // beside them
}

// In is a form of names, or of selections, which stand in a table of the files: "frames".
// Beside them there may be words.
func In(table string, form Form, words ...string) Form {
	return made{schema: form.Schema, read: form.Read, around: form, named: named{table, words}}
}

// NamesOf is the table in which the names stand that a form takes, "" for none, and the
// words that it takes: beside those names, or alone.
func NamesOf(form Form) (table string, words []string) {
	for m, ok := form.(made); ok; m, ok = m.around.(made) {
		if m.named.table != "" {
			return m.named.table, m.named.words
		}
		if m.text != nil {
			return NamesOf(m.text)
		}
	}
	return "", schema.Words(form.Schema())
}

// As is a form that another one describes: its keys and its values.
func As(described, form Form) Form {
	return made{schema: form.Schema, read: form.Read, around: described}
}

// Alone is a form without what it takes as a list or a mapping, where it takes something
// else as well.
func Alone(form Form) Form {
	for m, ok := form.(made); ok && m.around != nil; m, ok = m.around.(made) {
		if m.text != nil {
			return m.text
		}
	}
	return form
}
