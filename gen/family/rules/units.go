package rules

import (
	"math"

	"gridferry/plan/decode"
)

// Quantity is what a figure measures. Inside Gridferry a length is in mm, an
// angle in degrees, a time in s, a speed in mm/s, a mass in kg, a moment of inertia
// in kg·m²; a Component is one of a unit quaternion's.
type Quantity uint8

// The quantities.
const (
	Length Quantity = iota
	Angle
	Time
	Speed
	Mass
	Inertia
	Component
	quantities = iota
)

// Limit is a length that is a bound and must not come out larger: a fly-by radius, or
// an acceleration in lengths per s². It has the unit, the decimals and the width of a
// Length.
const Limit = Quantity(quantities)

// measure is the quantity whose unit, decimals and width a figure has.
func (q Quantity) measure() Quantity {
	if q == Limit {
		return Length
	}
	return q
}

// bounds reports whether a figure must not be exceeded, and is therefore rounded down: with
// 0.3 m/s for 0.25 m/s the machine would go faster than allowed.
func (q Quantity) bounds() bool { return q == Speed || q == Limit }

// Unit is what a family counts a quantity in: the figure is value × Times ÷ Over.
// Both numbers are exact wherever the unit is defined exactly, so that a figure
// is off by two roundings at most.
type Unit struct {
	Name        string
	Times, Over float64
}

// percent stands for "percent of the machine's own speed", which the cell gives.
const percent = "percent"

// The units that a family may write. The inch is 25.4 mm and the pound
// 0.45359237 kg exactly, by the international yard and pound agreement of 1959
// (NIST SP 811, appendix B.6).
var (
	lengthUnits  = []Unit{{"mm", 1, 1}, {"inch", 1, 25.4}}
	angleUnits   = []Unit{{"deg", 1, 1}, {"rad", math.Pi, 180}}
	timeUnits    = []Unit{{"s", 1, 1}, {"ms", 1000, 1}}
	massUnits    = []Unit{{"kg", 1, 1}, {"g", 1000, 1}, {"lb", 1, 0.45359237}}
	inertiaUnits = []Unit{{"kg*m2", 1, 1}, {"kg*cm2", 1e4, 1}, {"kg*mm2", 1e6, 1}}
	speedUnits   = []Unit{
		{"mm/s", 1, 1}, {"mm/min", 60, 1}, {"m/s", 1, 1000}, {"m/min", 60, 1000}, {"inch/s", 1, 25.4}, {"inch/min", 60, 25.4}, {percent, 100, 0},
	}
)

// Units is the unit of each quantity.
type Units [quantities]Unit

func metric() Units {
	return Units{Length: lengthUnits[0], Angle: angleUnits[0], Time: timeUnits[0], Speed: speedUnits[0], Mass: massUnits[0], Inertia: inertiaUnits[0], Component: {"", 1, 1}}
}

// keys are the keys of family.yaml that choose units.
func (u *Units) keys() []decode.Key {
	usual := metric()
	return []decode.Key{
		decode.Must("speed_unit", "The unit of speeds; percent is of the machine's own speed, which the cell then has to give.", unitForm(&u[Speed], speedUnits)),
		decode.May("length_unit", "The unit of lengths; accelerations follow it. An inch is 25.4 mm exactly.", unitForm(&u[Length], lengthUnits)).Default(usual[Length].Name),
		decode.May("angle_unit", "The unit of angles.", unitForm(&u[Angle], angleUnits)).Default(usual[Angle].Name),
		decode.May("time_unit", "The unit of times. The field `.Seconds` is there with `s` only, `.Time` always.", unitForm(&u[Time], timeUnits)).Default(usual[Time].Name),
		decode.May("mass_unit", "The unit of masses. A pound is 0.45359237 kg exactly.", unitForm(&u[Mass], massUnits)).Default(usual[Mass].Name),
		decode.May("inertia_unit", "The unit of moments of inertia.", unitForm(&u[Inertia], inertiaUnits)).Default(usual[Inertia].Name),
	}
}

func unitForm(dst *Unit, known []Unit) decode.Form {
	words := make([]string, len(known))
	for i, u := range known {
		words[i] = u.Name
	}
	return decode.Choice(dst, words, known)
}

// InPercent reports whether speeds are written as percent of the machine's own.
func (u *Units) InPercent() bool { return u[Speed].Name == percent }

// At is the unit for a machine of that speed in mm/s, which only percent asks for.
func (u *Units) At(q Quantity, machine float64) Unit {
	unit := u[q.measure()]
	if unit.Over == 0 {
		unit.Over = machine
	}
	return unit
}

// Of is a value in the internal unit as a figure of this unit.
func (u Unit) Of(value float64) float64 { return value * u.Times / u.Over }

// Value is a figure of this unit as a value in the internal unit.
func (u Unit) Value(figure float64) float64 { return figure * u.Over / u.Times }
