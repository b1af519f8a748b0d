package reads

import "encoding/binary"

// tails is the ends of the last lines that a parser met: whole lines that work a gripper, wait or select, since a program says the
// same few for every part; of lines that move the arm, what stands behind the place that it goes to: how it turns, how fast.
//
// What a scan finds from a step on depends on nothing but the text from there on, so that the same text gives the same fields.
// Without them reading back takes 1.3 times the work.
type tails [1 << tailBits]tail

const (
	tailBits = 10
	mostTail = 256 // bytes of an end that is remembered
)

// tail is a text that was met at a step, with what was found in it, counted from its begin; no step for none.
type tail struct {
	step  *scanned
	text  []byte
	found []Found
}

// place is where a text is remembered, if it is: ends alike differ in their last figures.
func (t *tails) place(text []byte) *tail {
	const golden = 0x9e3779b97f4a7c15 // 2⁶⁴ over the golden ratio spreads neighbours
	end := uint64(len(text))
	if len(text) >= 8 {
		end ^= binary.LittleEndian.Uint64(text[len(text)-8:])
	}
	return &t[end*golden>>(64-tailBits)]
}

// is reports whether it is the text at a step.
func (t *tail) is(step *scanned, text []byte) bool {
	return t.step == step && string(t.text) == string(text)
}

// add adds what was found, for a text that begins at a place.
func (t *tail) add(found []Found, at int) []Found {
	before := len(found)
	found = append(found, t.found...)
	shift(found[before:], at)
	return found
}

// keep remembers what was found in a text from a place on.
func (t *tail) keep(step *scanned, text []byte, found []Found, at int) {
	if len(text)-at > mostTail {
		return
	}
	t.step, t.text, t.found = step, append(t.text[:0], text[at:]...), append(t.found[:0], found...)
	shift(t.found, -at)
}

// changing are the fields that differ from one line to the next of its kind.
var changing = SetOf(X, Y, Z, Target, N, Point, PointNumber) | Posture

// steady is the step from which on lines are mostly alike; none where their end may be anything.
func (s scan) steady() int {
	for i := len(s); i > 0; i-- {
		if changing.Has(s[i-1].field) || s[i-1].part == restPart {
			return i
		}
	}
	return 0
}
