package reads

import (
	"encoding/binary"
	"slices"
)

// tails is the ends of the last lines that a parser met: whole lines that work a gripper, wait or select, since a program says the
// same few for every part; of lines that move the arm, what stands behind the place that it goes to: how it turns, how fast.
//
// What is found from a step of a pattern on, or from a column of a row, depends on nothing but the text from there on. Which values
// that gives depends on the entry, on the job, and on the names that were learned from the program's own tables: when one is learned
// all is forgotten. A line with a name, which is learned and has to agree with its number, has no such end. So the same text gives the
// same values. Of a whole line it does not matter either in which way it is written: the first one that fits is
// always the same. Without them reading back takes 1.5 times the work.
type tails struct {
	kept [1 << tailBits]tail

	// Of the line that was scanned last: which way of which entry it was compared with, and its end.
	way    *int   // one of Entry.steady, or Entry.whole
	end    *tail  // nil where it has none that could be remembered
	known  bool   // it was met before
	text   []byte // of one that was not
	before int    // so many of the fields that were found stand before it
}

const (
	tailBits = 10
	mostTail = 256 // bytes of an end that is remembered
)

// tail is a text that was met from a step on, with the values that it says.
type tail struct {
	way           *int // nil for none
	text          []byte
	numbers       []said
	has           FieldSet
	target, point string
}

// said is a field with its number.
type said struct {
	field  Field
	number float64
}

// begin is for a line that is compared with a way of an entry.
func (t *tails) begin(way *int) {
	if t != nil {
		t.way, t.end = way, nil
	}
}

// place is where a text is remembered, if it is: ends alike differ in their last figures.
func (t *tails) place(text []byte) *tail {
	const golden = 0x9e3779b97f4a7c15 // 2⁶⁴ over the golden ratio spreads neighbours
	end := uint64(len(text))
	if len(text) >= 8 {
		end ^= binary.LittleEndian.Uint64(text[len(text)-8:])
	}
	return &t.kept[end*golden>>(64-tailBits)]
}

// has reports whether a tail is the text at the present step.
func (t *tails) has(end *tail, text []byte) bool {
	return end.way == t.way && string(end.text) == string(text)
}

// hit is for an end that was met before, and miss for one that was not, behind so many fields.
func (t *tails) hit(end *tail, before int) { t.end, t.known, t.before = end, true, before }

func (t *tails) miss(end *tail, text []byte, before int) {
	t.end, t.known, t.text, t.before = end, false, text, before
}

// forget is for what changes the values that a text says.
func (t *tails) forget() { clear(t.kept[:]) }

// keep remembers what the end of the present line says; that of a long one holds for this line only.
func (t *tails) keep(says *Values) {
	end := t.end
	if end.way = nil; len(t.text) <= mostTail {
		end.way, end.text = t.way, append(end.text[:0], t.text...)
	}
	end.has, end.target, end.point = says.Has, says.Target, says.Point
	end.numbers = end.numbers[:0]
	for rest := says.Has; rest != 0; rest &= rest - 1 {
		end.numbers = append(end.numbers, said{rest.First(), says.Number[rest.First()]})
	}
}

// put adds the values to those that stand before them.
func (t *tail) put(to *Values) {
	to.Has |= t.has
	for i := range t.numbers {
		to.Number[t.numbers[i].field] = t.numbers[i].number
	}
	if t.has&SetOf(Target) != 0 {
		to.Target = t.target
	}
	if t.has&SetOf(Point) != 0 {
		to.Point = t.point
	}
}

// changing are the fields that differ from one line to the next of its kind.
var changing = SetOf(X, Y, Z, Target, N, Point, PointNumber) | Posture

// steady is the step from which on lines are mostly alike; none where their end may be anything.
func (s scan) steady() int {
	fields := make([]Field, len(s))
	for i := range s {
		if fields[i] = s[i].field; s[i].part == restPart {
			fields[i] = Target
		}
	}
	return steady(fields)
}

// steady is the same for the columns of a row.
func steady(fields []Field) int {
	for i := len(fields); i > 0; i-- {
		if changing.Has(fields[i-1]) || slices.Contains(fields, Name) {
			return i
		}
	}
	return 0
}
