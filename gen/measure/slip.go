package measure

import (
	"math"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
)

// lengthUnit is a unit that figures may have been written in.
type lengthUnit struct {
	times float64 // mm
	name  string  // as a sentence has it
	sign  string  // as it is written behind a figure; "" where there is none
}

// units are those that people take for millimetres, or the other way round.
var units = []lengthUnit{{10, "centimetres", "cm"}, {25.4, "inches", "in"}, {100, "decimetres", ""}, {1000, "metres", "m"}}

// slip is a point that may have been meant, and the one mistake that spoilt it.
type slip struct {
	at   geom.Vec
	what string // the mistake
}

// slips are the usual mistakes in one point, corrected: a sign, two axes, a unit, a
// decimal point.
func slips(p geom.Vec) []slip {
	all := []slip{
		{geom.Vec{X: p.Y, Y: p.X, Z: p.Z}, "X and Y exchanged"},
		{geom.Vec{X: p.Z, Y: p.Y, Z: p.X}, "X and Z exchanged"},
		{geom.Vec{X: p.X, Y: p.Z, Z: p.Y}, "Y and Z exchanged"},
	}
	for _, u := range units {
		all = append(all, slip{p.Scale(u.times), "figures in " + u.name}, slip{p.Scale(1 / u.times), "millimetres taken for " + u.name})
	}
	for i, axis := range []string{"X", "Y", "Z"} {
		all = append(all, slip{scaled(p, i, -1), "the wrong sign of " + axis})
		for _, times := range []float64{10, 0.1, 100, 0.01} {
			all = append(all, slip{scaled(p, i, times), "a slipped decimal point in " + axis})
		}
	}
	return all
}

// scaled multiplies one coordinate.
func scaled(p geom.Vec, axis int, times float64) geom.Vec {
	c := [3]*float64{&p.X, &p.Y, &p.Z}
	*c[axis] *= times
	return p
}

// slipIn is the one mistake in a point without which all is well; false where none
// of them or several different ones would do. Points that a mistake leaves where
// they are cannot have it.
func slipIn(p geom.Vec, well func(geom.Vec) bool) (what string, found bool) {
	for _, s := range slips(p) {
		switch {
		case s.at == p || !well(s.at):
		case found && s.what != what:
			return "", false
		default:
			what, found = s.what, true
		}
	}
	return what, found
}

// unitSlack is how far off a unit's factor two sets of points may be, and how far
// off each other when it is taken out, as a part of their size.
const unitSlack = 0.02

// unitOf is the unit that explains why one set of points is so many times as large
// as the other.
func unitOf(times float64) (lengthUnit, bool) {
	for _, u := range units {
		if math.Abs(times/u.times-1) < unitSlack {
			return u, true
		}
	}
	return lengthUnit{}, false
}

// size is how far points lie about their mean, root of the sum of the squares.
func size(points []geom.Vec) float64 {
	var mean geom.Vec
	for _, p := range points {
		mean = mean.Add(p.Scale(1 / float64(len(points))))
	}
	sum := 0.0
	for _, p := range points {
		off := p.Sub(mean)
		sum += off.Dot(off)
	}
	return math.Sqrt(sum)
}

func scaledAll(points []geom.Vec, times float64) []geom.Vec {
	all := make([]geom.Vec, len(points))
	for i, p := range points {
		all[i] = p.Scale(times)
	}
	return all
}

// fits reports whether measured points agree with the nominal ones within a tolerance.
func fits(nominal, measured []geom.Vec, tolerance float64) bool {
	found, err := fit.BestFit(nominal, measured)
	return err == nil && found.Largest <= tolerance
}
