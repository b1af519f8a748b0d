package family

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Decimals is how many digits stand behind the point of each quantity.
type Decimals struct{ Length, Angle, Time, Speed, Mass, Quaternion int }

// MostDecimals is the most that a family may ask for.
const MostDecimals = 9

// usualQuaternion decimals hold an angle to about 0.0001 degrees.
const usualQuaternion = 6

// read also keeps where the decimals of speeds are given.
func (d *Decimals) read(r *decode.Reader, speedAt *diag.Place) func(decode.Node) {
	return func(n decode.Node) {
		var length, angle, time, speed, mass, quaternion decode.Value[int]
		r.Object(n, "decimals",
			decode.Must("length", r.Whole(&length, 0, MostDecimals)),
			decode.Must("angle", r.Whole(&angle, 0, MostDecimals)),
			decode.Must("time", r.Whole(&time, 0, MostDecimals)),
			decode.Must("speed", r.Whole(&speed, 0, MostDecimals)),
			decode.Must("mass", r.Whole(&mass, 0, MostDecimals)),
			decode.May("quaternion", r.Whole(&quaternion, 1, MostDecimals)),
		)
		*speedAt = speed.Place
		*d = Decimals{length.V, angle.V, time.V, speed.V, mass.V, quaternion.Or(usualQuaternion)}
	}
}

// Of is the decimals of one quantity.
func (d *Decimals) Of(q Quantity) int {
	return [quantities]int{Length: d.Length, Angle: d.Angle, Time: d.Time, Speed: d.Speed, Mass: d.Mass, Component: d.Quaternion}[q.measure()]
}

// PointForm says what a figure without a fraction ends in.
type PointForm uint8

// The forms: 40, 40. and 40.0.
const (
	PointAsNeeded PointForm = iota
	PointAlways
	PointWithDigit
)

// Form is how the digits of a figure are set. The zero value sets them as
// AppendFixed gives them.
type Form struct {
	Point     PointForm
	DropZeros bool            // at the end, behind the point
	Plus      bool            // a sign before every figure
	Zeros     bool            // fill up to Width with zeros behind the sign instead of blanks before it
	Width     [quantities]int // least and greatest number of characters; 0 for any
}

func (f *Form) read(r *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		r.Object(n, "numbers",
			decode.May("point", readChoice(r, &f.Point, []string{"as-needed", "always", "with-digit"}, []PointForm{PointAsNeeded, PointAlways, PointWithDigit})),
			decode.May("trailing_zeros", readChoice(r, &f.DropZeros, []string{"keep", "drop"}, []bool{false, true})),
			decode.May("sign", readChoice(r, &f.Plus, []string{"negative", "always"}, []bool{false, true})),
			decode.May("fill", readChoice(r, &f.Zeros, []string{"blanks", "zeros"}, []bool{false, true})),
			decode.May("width", f.readWidths(r)),
		)
	}
}

func (f *Form) readWidths(r *decode.Reader) func(decode.Node) {
	return func(n decode.Node) {
		var keys []decode.Key
		names := [quantities]string{Length: "length", Angle: "angle", Time: "time", Speed: "speed", Mass: "mass", Component: "quaternion"}
		for q, name := range names {
			keys = append(keys, decode.May(name, func(n decode.Node) {
				var width decode.Value[int]
				r.Whole(&width, 1, 40)(n)
				f.Width[q] = width.V
			}))
		}
		r.Object(n, "width", keys...)
	}
}

// What can be wrong with a figure.
var (
	ErrNotFinite = errors.New("not a number that a program can hold")
	ErrTooWide   = errors.New("wider than the family's field")
)

// AppendComponent appends one component of a rotation vector, in the unit and
// with the decimals of angles.
func (rules *Rules) AppendComponent(b []byte, figure float64) ([]byte, error) {
	start := len(b)
	b, err := AppendFixed(b, figure, rules.Decimals.Angle)
	if err != nil {
		return b, err
	}
	return rules.Form.set(b, start, Angle)
}

// AppendFigure appends a figure of the family's own unit in the family's form: rounded
// to the nearest one or, of a Speed and a Limit, to the next one below (AppendBelow).
// The error wraps ErrNotFinite or ErrTooWide.
func (rules *Rules) AppendFigure(b []byte, q Quantity, figure float64) ([]byte, error) {
	start := len(b)
	var err error
	switch {
	case q == Angle:
		b, err = appendTurn(b, figure, rules.Units[Angle].Of(180), rules.Decimals.Angle)
	case q.bounds():
		b, err = AppendBelow(b, figure, rules.Decimals.Of(q))
	default:
		b, err = AppendFixed(b, figure, rules.Decimals.Of(q))
	}
	if err != nil || rules.Form == (Form{}) {
		return b, err
	}
	return rules.Form.set(b, start, q)
}

// set gives the digits from start on their form.
func (f *Form) set(b []byte, start int, q Quantity) ([]byte, error) {
	if f.DropZeros && bytes.IndexByte(b[start:], '.') >= 0 {
		b = append(b[:start], bytes.TrimSuffix(bytes.TrimRight(b[start:], "0"), []byte("."))...)
	}
	if f.Point != PointAsNeeded && bytes.IndexByte(b[start:], '.') < 0 {
		b = append(b, '.')
		if f.Point == PointWithDigit {
			b = append(b, '0')
		}
	}
	if f.Plus && b[start] != '-' {
		b = slices.Insert(b, start, '+')
	}
	return f.widen(b, start, f.Width[q.measure()])
}

// widen fills a figure up to its width.
func (f *Form) widen(b []byte, start, width int) ([]byte, error) {
	lacking := width - (len(b) - start)
	switch {
	case width == 0:
		return b, nil
	case lacking < 0:
		return b, fmt.Errorf("the figure %s has %d characters, %w of %d", b[start:], len(b)-start, ErrTooWide, width)
	}
	at, fill := start, byte(' ')
	if f.Zeros {
		fill = '0'
		if b[start] == '-' || b[start] == '+' {
			at++
		}
	}
	return slices.Insert(b, at, bytes.Repeat([]byte{fill}, lacking)...), nil
}

// HalfStep is half a unit of a quantity's last decimal, in the unit that
// Gridferry reckons in: the figures of one family that are further apart are not the
// same figure.
func (rules *Rules) HalfStep(q Quantity, machine float64) float64 {
	return rules.Units.At(q, machine).Value(0.5 * math.Pow10(-rules.Decimals.Of(q)))
}

// Reach is how far below and above the value that it was written from a figure may lie,
// in the unit that Gridferry reckons in: half a step to either side or, of a figure that
// is rounded down, less than a whole one below and none above.
func (rules *Rules) Reach(q Quantity, machine float64) (below, above float64) {
	half := rules.HalfStep(q, machine)
	if q.bounds() {
		return 2 * half, 0
	}
	return half, half
}
