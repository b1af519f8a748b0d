package unit

import (
	"math/big"
	"strings"
	"sync"
)

// factor is what one of a unit is in the base unit: num/den, and for angles written in radians times 180/π as well.
type factor struct {
	num, den int64
	radians  bool
}

func (f factor) times(g factor) factor {
	return factor{f.num * g.num, f.den * g.den, f.radians || g.radians}
}

func (f factor) over(g factor) factor { return factor{f.num * g.den, f.den * g.num, f.radians} }

func (f factor) ratio() *big.Rat { return big.NewRat(f.num, f.den) }

// symbol is one spelling of a unit. The first spelling of a unit is the one that hints offer.
type symbol struct {
	text   string
	factor factor
	hinted bool
}

// The inch and the pound are exact by the international yard and pound agreement of 1959 (United States: Federal Register
// document 59-5442; United Kingdom: Weights and Measures Act 1963): 1 yd = 0.9144 m, 1 lb = 0.45359237 kg.
var (
	lengths = []symbol{
		{"mm", factor{num: 1, den: 1}, true},
		{"cm", factor{num: 10, den: 1}, true},
		{"m", factor{num: 1000, den: 1}, true},
		{"um", factor{num: 1, den: 1000}, true},
		{"µm", factor{num: 1, den: 1000}, false}, // U+00B5 micro sign
		{"μm", factor{num: 1, den: 1000}, false}, // U+03BC Greek mu
		{"in", factor{num: 254, den: 10}, true},
		{"inch", factor{num: 254, den: 10}, false},
		{"ft", factor{num: 3048, den: 10}, true},
	}
	angles = []symbol{
		{"deg", factor{num: 1, den: 1}, true},
		{"°", factor{num: 1, den: 1}, false},
		{"rad", factor{num: 1, den: 1, radians: true}, true},
	}
	times = []symbol{
		{"s", factor{num: 1, den: 1}, true},
		{"ms", factor{num: 1, den: 1000}, true},
		{"min", factor{num: 60, den: 1}, true},
		{"h", factor{num: 3600, den: 1}, true},
	}
	masses = []symbol{
		{"kg", factor{num: 1, den: 1}, true},
		{"g", factor{num: 1, den: 1000}, true},
		{"lb", factor{num: 45359237, den: 100000000}, true},
		{"oz", factor{num: 45359237, den: 1600000000}, true}, // avoirdupois: 16 to the pound
	}
	forces = []symbol{
		{"N", factor{num: 1, den: 1}, true},
	}
)

// What stands below the line of a speed, an acceleration and a jerk.
var (
	perTime = []symbol{
		{"/s", factor{num: 1, den: 1}, true},
		{"/min", factor{num: 60, den: 1}, true},
	}
	perTimeSquared = []symbol{
		{"/s²", factor{num: 1, den: 1}, false},
		{"/s2", factor{num: 1, den: 1}, true},
		{"/s^2", factor{num: 1, den: 1}, false},
	}
	perTimeCubed = []symbol{
		{"/s³", factor{num: 1, den: 1}, false},
		{"/s3", factor{num: 1, den: 1}, true},
		{"/s^3", factor{num: 1, den: 1}, false},
	}
)

// table holds every symbol of every dimension. No symbol is used twice, so that a symbol gives its dimension.
var table = sync.OnceValue(func() map[Dimension][]symbol {
	return map[Dimension][]symbol{
		Length:              lengths,
		Angle:               angles,
		Time:                times,
		Mass:                masses,
		Speed:               per(lengths, perTime),
		Acceleration:        per(lengths, perTimeSquared),
		Jerk:                per(lengths, perTimeCubed),
		AngularSpeed:        append(per(angles, perTime), symbol{"rpm", factor{num: 6, den: 1}, true}),
		AngularAcceleration: per(angles, perTimeSquared),
		Moment:              moments(),
		Inertia:             inertias(),
	}
})

// per combines every symbol above a line with every one below it.
func per(above, below []symbol) []symbol {
	var out []symbol
	for _, b := range below {
		for _, a := range above {
			out = append(out, symbol{a.text + b.text, a.factor.over(b.factor), a.hinted && b.hinted})
		}
	}
	return out
}

// moments combines forces with lengths, in N·m: "N·m", "N*m" and "Nm".
func moments() []symbol {
	var out []symbol
	toMetre := factor{num: 1, den: 1000}
	for _, dot := range []string{"·", "*", ""} {
		for _, f := range forces {
			for _, l := range lengths[:3] {
				out = append(out, symbol{f.text + dot + l.text, f.factor.times(l.factor).times(toMetre), dot == ""})
			}
		}
	}
	return out
}

// inertias combines masses with squares of lengths, in kg·m²: "kg·m²", "kg*m2", "kgm^2".
func inertias() []symbol {
	var out []symbol
	toSquareMetre := factor{num: 1, den: 1_000_000}
	for _, dot := range []string{"·", "*", ""} {
		for _, squared := range []string{"²", "2", "^2"} {
			for _, m := range masses[:2] {
				for _, l := range []symbol{lengths[2], lengths[1], lengths[0]} {
					area := l.factor.times(l.factor).times(toSquareMetre)
					out = append(out, symbol{m.text + dot + l.text + squared, m.factor.times(area), dot == "*" && squared == "2" && m.text == "kg"})
				}
			}
		}
	}
	return out
}

// meaning is what a symbol stands for.
type meaning struct {
	dimension Dimension
	factor    factor
}

var meanings = sync.OnceValue(func() map[string]meaning {
	out := make(map[string]meaning)
	for d, symbols := range table() {
		for _, s := range symbols {
			out[s.text] = meaning{d, s.factor}
		}
	}
	return out
})

// Symbols is every spelling of every unit of a dimension.
func Symbols(d Dimension) []string {
	var texts []string
	for _, s := range table()[d] {
		texts = append(texts, s.text)
	}
	return texts
}

// hintedSymbols lists the units of a dimension as a hint offers them: "mm, cm, m, um, in or ft".
func hintedSymbols(d Dimension) string {
	var names []string
	for _, s := range table()[d] {
		if s.hinted {
			names = append(names, s.text)
		}
	}
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// caseSlip finds the symbol of the dimension that differs from text in letter case only.
func caseSlip(text string, d Dimension) (string, bool) {
	for _, s := range table()[d] {
		if s.text != text && strings.EqualFold(s.text, text) {
			return s.text, true
		}
	}
	return "", false
}
