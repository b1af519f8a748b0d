package rules

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/decimal"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Decimals is how many digits stand behind the point of each quantity.
type Decimals struct{ Length, Angle, Time, Speed, Mass, Inertia, Quaternion int }

// MostDecimals is the most that a family may ask for.
const MostDecimals = 9

// usualQuaternion decimals hold an angle to about 0.0001 degrees.
const usualQuaternion = 6

// usualInertia decimals are 1 kg·mm² with kg·m².
const usualInertia = 6

// form also keeps where each of them is given.
func (d *Decimals) form(at *[quantities]diag.Place) decode.Form {
	decimals := func(q Quantity, dst *int, least int) decode.Form {
		return decode.At(&at[q], whole(dst, least, MostDecimals))
	}
	return decode.Object{What: "decimals", Keys: []decode.Key{
		decode.Must("length", "Of lengths.", decimals(Length, &d.Length, 0)),
		decode.Must("angle", "Of angles.", decimals(Angle, &d.Angle, 0)),
		decode.Must("time", "Of times.", decimals(Time, &d.Time, 0)),
		decode.Must("speed", "Of speeds.", decimals(Speed, &d.Speed, 0)),
		decode.Must("mass", "Of masses.", decimals(Mass, &d.Mass, 0)),
		decode.May("inertia", "Of moments of inertia.", decimals(Inertia, &d.Inertia, 0)).Default(usualInertia),
		decode.May("quaternion", "Of the components of a quaternion, 1 at least.", decimals(Component, &d.Quaternion, 1)).Default(usualQuaternion),
	}}
}

// Of is the decimals of one quantity.
func (d *Decimals) Of(q Quantity) int {
	return [quantities]int{Length: d.Length, Angle: d.Angle, Time: d.Time, Speed: d.Speed, Mass: d.Mass, Inertia: d.Inertia, Component: d.Quaternion}[q.measure()]
}

// PointForm says what a figure without a fraction ends in.
type PointForm uint8

// The forms: 40, 40. and 40.0.
const (
	PointAsNeeded PointForm = iota
	PointAlways
	PointWithDigit
)

// Form is how the digits of a figure are formatted. The zero value leaves them as
// AppendFixed gives them.
type Form struct {
	Point     PointForm
	DropZeros bool            // at the end, behind the point
	Plus      bool            // a sign before every figure
	Zeros     bool            // fill up to Width with zeros behind the sign instead of blanks before it
	Comma     bool            // before the decimals, and no point
	Width     [quantities]int // least and greatest number of characters; 0 for any
}

func (f *Form) form() decode.Form {
	return decode.Object{What: "numbers", Keys: []decode.Key{
		decode.May("point", "The decimal point: only where digits follow it, always, or always and one digit behind it. "+
			"It matters where no digits are left: `40`, `40.`, `40.0`.",
			decode.Choice(&f.Point, []string{"as-needed", "always", "with-digit"}, []PointForm{PointAsNeeded, PointAlways, PointWithDigit})).Default("as-needed"),
		decode.May("trailing_zeros", "Whether zeros at the end of a fraction stay: `40.000`, or `40`.",
			decode.Choice(&f.DropZeros, []string{"keep", "drop"}, []bool{false, true})).Default("keep"),
		decode.May("sign", "A sign only where it is a minus, or always: `40.000`, or `+40.000`.",
			decode.Choice(&f.Plus, []string{"negative", "always"}, []bool{false, true})).Default("negative"),
		decode.May("fill", "Blanks before the figure, or zeros behind its sign: `00040.000`.",
			decode.Choice(&f.Zeros, []string{"blanks", "zeros"}, []bool{false, true})).Default("blanks"),
		decode.May("width", "So many characters, no more and no less, as in `{length: 9}`.", decode.Object{What: "width", Keys: f.widthKeys()}),
	}}
}

func (f *Form) widthKeys() []decode.Key {
	var keys []decode.Key
	for q, of := range [quantities]struct{ name, doc string }{
		Length: {"length", "Of lengths."}, Angle: {"angle", "Of angles."}, Time: {"time", "Of times."}, Speed: {"speed", "Of speeds."},
		Mass: {"mass", "Of masses."}, Inertia: {"inertia", "Of moments of inertia."}, Component: {"quaternion", "Of the components of a quaternion."},
	} {
		keys = append(keys, decode.May(of.name, of.doc, whole(&f.Width[q], 1, 40)))
	}
	return keys
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

// Mark is what stands before the decimals.
func (f *Form) Mark() byte {
	if f.Comma {
		return ','
	}
	return '.'
}

// Number is the number that a text in this form is; false where it is none, as it is with
// the other mark.
func (f *Form) Number(text string) (float64, bool) {
	if f.Comma {
		text = strings.NewReplacer(",", ".", ".", ",").Replace(text)
	}
	value, err := strconv.ParseFloat(text, 64)
	return value, err == nil
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
	if at := bytes.IndexByte(b[start:], '.'); f.Comma && at >= 0 {
		b[start+at] = ','
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

// HalfStep is half a unit of a quantity's last decimal, in the internal unit: figures
// of one family that are further apart are not the same figure.
func (rules *Rules) HalfStep(q Quantity, machine float64) float64 {
	return rules.Units.At(q, machine).Value(0.5 * math.Pow10(-rules.Decimals.Of(q)))
}

// Written is a value as it comes out of a program, in the internal unit; the value itself
// where it has no figure. It costs a text only where the digits are more than a float64
// tells apart.
func (rules *Rules) Written(q Quantity, v, machine float64) float64 {
	unit, decimals := rules.Units.At(q, machine), rules.Decimals.Of(q)
	figure := unit.Of(v)
	round := decimal.Below
	if !q.bounds() {
		round = nearest
	}
	if steps, ok := round(math.Abs(figure), decimals); ok {
		return unit.Value(math.Copysign(float64(steps)/math.Pow10(decimals), figure))
	}
	text, err := rules.AppendFigure(nil, q, figure)
	if err != nil {
		return v
	}
	if written, ok := rules.Form.Number(strings.TrimLeft(string(text), " +")); ok {
		return unit.Value(written)
	}
	return v
}

func nearest(size float64, decimals int) (uint64, bool) {
	steps, _, ok := decimal.Nearest(size, decimals)
	return steps, ok
}

// Reach is how far below and above the value that it was written from a figure may lie,
// in the internal unit: half a step to either side or, of a figure that is rounded
// down, less than a whole one below and none above.
func (rules *Rules) Reach(q Quantity, machine float64) (below, above float64) {
	half := rules.HalfStep(q, machine)
	if q.bounds() {
		return 2 * half, 0
	}
	return half, half
}
