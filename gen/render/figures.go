package render

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/plan/wording"
)

// figures writes numbers as the family's rules say. It keeps the first error, so
// that a view can be filled in one go.
type figures struct {
	rules   *rules.Rules
	machine float64 // mm/s, the machine's own speed; 0 where the cell does not say
	buf     []byte
	texts   texts
	err     error
	memory  [1 << memoryBits]remembered
	failed  remembered // stands for a figure that has no text
	lost    *loss      // the speed that was cut last, until somebody takes it

	masses, radii bool // some block asks for them, so that they must not become 0
}

// remembered is a figure and how it is written. Grids repeat their figures: a row's
// slots have the same Y, all of them the same height, speed and load. A "write"
// without this memory is 1.15 to 1.26 times the work.
type remembered struct {
	bits     uint64
	text     string // "" while nothing is remembered
	quantity rules.Quantity
	nothing  bool // the text has no digit but 0
}

const memoryBits = 10

// place is where a figure is remembered, if it is.
func (f *figures) place(q rules.Quantity, bits uint64) *remembered {
	const golden = 0x9e3779b97f4a7c15 // 2⁶⁴ over the golden ratio spreads neighbours
	return &f.memory[(bits^uint64(q)<<3)*golden>>(64-memoryBits)]
}

// texts keeps short texts in common storage, so that few of them cost an
// allocation of their own.
type texts struct{ storage strings.Builder }

const storageSize = 4 << 10

// keep is b as a text.
func (t *texts) keep(b []byte) string {
	if t.storage.Cap()-t.storage.Len() < len(b) {
		t.storage = strings.Builder{}
		t.storage.Grow(max(storageSize, len(b)))
	}
	start := t.storage.Len()
	t.storage.Write(b)
	return t.storage.String()[start:]
}

// take returns the error and forgets it.
func (f *figures) take() error {
	err := f.err
	f.err = nil
	return err
}

func (f *figures) length(v float64) string { return f.figure(rules.Length, v) }
func (f *figures) angle(v float64) string  { return f.figure(rules.Angle, v) }

// speed takes mm/s and never gives more than that. One that rounds to nothing would be
// read as a standstill.
func (f *figures) speed(v float64) string { return f.something(rules.Speed, v) }

// time takes seconds. A wait that rounds to nothing would be none, and a
// time-out of nothing is no time-out at all.
func (f *figures) time(v float64) string { return f.something(rules.Time, v) }

// flyBy takes the radius of a fly-by point. One that rounds to nothing would be a stop.
func (f *figures) flyBy(v float64) string {
	if f.radii {
		return f.something(rules.Limit, v)
	}
	return f.figure(rules.Limit, v)
}

// leastMass is what weighs nothing to any machine, kg.
const leastMass = 0.001

// mass takes kg. With a load that rounds to nothing the machine would move as if its flange
// were bare.
func (f *figures) mass(v float64) string {
	if f.masses && v >= leastMass {
		return f.something(rules.Mass, v)
	}
	return f.figure(rules.Mass, v)
}

func (f *figures) vector(v geom.Vec) (x, y, z string) {
	return f.length(v.X), f.length(v.Y), f.length(v.Z)
}

// leastInertia is what no machine feels as it turns, kg·m².
const leastInertia = 1e-6

// inertia takes kg·m². With one that rounds to nothing the machine would take it for unknown.
func (f *figures) inertia(v geom.Vec) (x, y, z string) {
	of := func(v float64) string {
		if v >= leastInertia {
			return f.something(rules.Inertia, v)
		}
		return f.figure(rules.Inertia, v)
	}
	return of(v.X), of(v.Y), of(v.Z)
}

// errNothing is a figure that its decimals make 0 of.
var errNothing = errors.New("rounds to nothing")

// something is figure for what must not become 0.
func (f *figures) something(q rules.Quantity, v float64) string {
	known := f.recall(q, v)
	if known.nothing && v > 0 && f.err == nil {
		f.err = fmt.Errorf("%w: %g %s is written %s", errNothing, f.unit(q).Of(v), f.unit(q).Name, strings.TrimSpace(known.text))
	}
	return known.text
}

func (f *figures) unit(q rules.Quantity) rules.Unit { return f.rules.Units.At(q, f.machine) }

func (f *figures) figure(q rules.Quantity, v float64) string { return f.recall(q, v).text }

// recall is how a figure is written, from memory if it can.
func (f *figures) recall(q rules.Quantity, v float64) *remembered {
	bits := math.Float64bits(v)
	known := f.place(q, bits)
	if known.bits != bits || known.quantity != q || known.text == "" {
		return f.learn(known, q, v)
	}
	return known
}

func (f *figures) learn(known *remembered, q rules.Quantity, v float64) *remembered {
	b, err := f.rules.AppendFigure(f.buf[:0], q, f.unit(q).Of(v))
	f.buf = b
	if err != nil {
		if f.err == nil {
			f.err = err
		}
		f.failed.text = string(b)
		return &f.failed
	}
	if q == rules.Speed {
		f.lost = f.lossOf(v, b)
	}
	*known = remembered{bits: math.Float64bits(v), text: f.texts.keep(b), quantity: q, nothing: !bytes.ContainsAny(b, "123456789")}
	return known
}

// loss is a speed of which rounding down takes a good deal away: the arm still goes no
// faster than it may, but takes longer than expected.
type loss struct {
	speed    float64 // mm/s
	text     string  // as it is written
	part     float64 // of the speed, that is taken away
	decimals int     // with which it would not be
}

// mostLost is the part of a speed that rounding may take away without a word.
const mostLost = 0.05

// lossOf is what rounding takes away from a speed that is written as a text; nil for
// no more than it may.
func (f *figures) lossOf(v float64, text []byte) *loss {
	unit := f.unit(rules.Speed)
	part := lostPart(unit.Of(v), f.rules.Decimals.Speed)
	if !(part > mostLost) {
		return nil
	}
	l := &loss{speed: v, text: strings.TrimSpace(string(text)) + " " + unit.Name, part: part, decimals: f.rules.Decimals.Speed}
	for l.decimals < rules.MostDecimals && lostPart(unit.Of(v), l.decimals) > mostLost {
		l.decimals++
	}
	return l
}

// lostPart is the part of a figure that stands behind its last decimal.
func lostPart(figure float64, decimals int) float64 {
	text, err := rules.AppendBelow(nil, figure, decimals)
	if err != nil || figure <= 0 {
		return 0
	}
	written, _ := strconv.ParseFloat(string(text), 64) // it is a number, as AppendBelow writes one
	return 1 - written/figure
}

// takeLost returns the speed that was cut last and forgets it.
func (f *figures) takeLost() *loss {
	lost := f.lost
	f.lost = nil
	return lost
}

// rotation fills the fields of the form that the family writes. About any form
// but the first the angles are worked out anew from the rotation itself.
func (f *figures) rotation(form rules.RotationForm, a geom.RPY) (r blocks.Rotation) {
	switch form {
	case rules.FixedXYZ:
		r.Roll, r.Pitch, r.Yaw = f.angle(a.Roll), f.angle(a.Pitch), f.angle(a.Yaw)
	case rules.MovingZYX:
		z, y, x := a.Rot().EulerZYX()
		r.Turn1, r.Turn2, r.Turn3 = f.angle(z), f.angle(y), f.angle(x)
	case rules.MovingZYZ:
		z1, y, z2 := a.Rot().EulerZYZ()
		r.Turn1, r.Turn2, r.Turn3 = f.angle(z1), f.angle(y), f.angle(z2)
	case rules.Quaternion:
		return f.quaternion(a, false)
	case rules.RotationVector:
		v := a.Rot().Vector()
		r.RX, r.RY, r.RZ = f.component(v.X), f.component(v.Y), f.component(v.Z)
	case rules.Vertical: // its one angle is asked for by itself
	}
	return r
}

// quaternion is one of the two that turn so: the first part of one that is not 0 is
// positive, the other is its negative.
func (f *figures) quaternion(a geom.RPY, negated bool) (r blocks.Rotation) {
	w, x, y, z := a.Rot().Quaternion()
	part := func(v float64) string {
		if negated {
			v = 0 - v
		}
		return f.figure(rules.Component, v)
	}
	r.QW, r.QX, r.QY, r.QZ = part(w), part(x), part(y), part(z)
	return r
}

// component is one of a rotation vector's, or how far an axis or a joint turns: an angle, but
// not one that could as well be written with the other sign.
func (f *figures) component(v float64) string {
	b, err := f.rules.AppendComponent(f.buf[:0], f.unit(rules.Angle).Of(v))
	f.buf = b
	if err != nil && f.err == nil {
		f.err = err
	}
	return f.texts.keep(b)
}

// remarkWidth is where a note of several lines is broken: room enough for the
// marks and the number of most families.
const remarkWidth = 72

// remarkWidthOf is the same for one family; a few characters are left to words
// of its own, such as "note:".
func remarkWidthOf(rules *rules.Rules) int {
	const own = 8
	if room := rules.CommentRoom(); room > 0 {
		return max(min(remarkWidth, room-own), 8)
	}
	return remarkWidth
}

// wrapped breaks a note into lines at its own line breaks and between words.
func wrapped(text string, width int) []blocks.Text {
	var out []blocks.Text
	for _, paragraph := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		for _, line := range wording.Wrap(paragraph, width) {
			out = append(out, blocks.NewText(line))
		}
	}
	return out
}
