package unit

import (
	"math"
	"math/big"
	"strings"
)

// Parse reads a number with or without a unit and gives it in the base unit of d. A blank between the two may be left out.
//
// The decimal number is converted exactly and rounded once: "420 g" is 0.42 and "2.5 in" is 63.5. The result is finite. The
// error is always an *Error.
func Parse(text string, d Dimension) (float64, error) {
	number, symbol, err := split(text, withArticle(d)+" in "+d.Base())
	if err != nil {
		return 0, err.hinted(wantedUnits(d))
	}
	value, err := toFloat(text, number)
	if err != nil || symbol == "" {
		return value, orNil(err)
	}
	m, err := lookUp(text, symbol, d)
	if err != nil {
		return 0, err
	}
	value = convert(number, value, m.factor)
	if math.IsInf(value, 0) {
		return 0, tooBig(text)
	}
	return value, nil
}

// lookUp finds what a symbol means, as long as it is a unit of d.
func lookUp(text, symbol string, d Dimension) (meaning, *Error) {
	m, known := meanings()[symbol]
	switch {
	case known && m.dimension == d:
		return m, nil
	case known:
		return meaning{}, fault(WrongDimension, text, wantedUnits(d), "is %s, wanted %s in %s",
			withArticle(m.dimension), withArticle(d), d.Base())
	}
	hint := wantedUnits(d)
	if right, ok := caseSlip(symbol, d); ok {
		hint = `write "` + right + `": upper and lower case make different units`
	}
	return meaning{}, fault(UnknownUnit, text, hint, "has the unknown unit %s, wanted %s in %s", quote(symbol), withArticle(d), d.Base())
}

func wantedUnits(d Dimension) string {
	return "write a bare number in " + d.Base() + ", or one with a unit: " + hintedSymbols(d)
}

// withArticle gives "a length", "an angle".
func withArticle(d Dimension) string {
	name := d.String()
	if strings.HasPrefix(name, "a") {
		return "an " + name
	}
	return "a " + name
}

// exactRange is where convert works with the decimal digits as they were written. Outside of it the exact fraction would be
// needlessly long, and no quantity of a machine lies there.
const exactRange = 1e40

// convert turns a number into the base unit. value is number as a float64.
func convert(number string, value float64, f factor) float64 {
	if f.radians {
		// π is not a fraction, so there is nothing exact to keep.
		return value / math.Pi * 180 * float64(f.num) / float64(f.den)
	}
	size := math.Abs(value)
	exact, ok := new(big.Rat), false
	if size < exactRange && size > 1/exactRange && len(number) < longestNumber {
		exact, ok = exact.SetString(number)
	}
	if !ok {
		return value * float64(f.num) / float64(f.den)
	}
	out, _ := exact.Mul(exact, f.ratio()).Float64()
	return out
}
