package rules

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"gridferry/gen/decimal"
)

// largest bounds what is written as a number: above it the decimals asked for
// lie beyond a float64's own precision.
const largest = 1e9

// AppendFixed appends v with exactly that many decimals: digits on both sides
// of the point (no point without decimals), no exponent, no "-0", and halves
// rounded away from zero. The exact value of v decides, not its shortest
// decimal form: 1.005 is a little less than it looks and gives 1.00. strconv takes six
// times as long for it.
func AppendFixed(b []byte, v float64, decimals int) ([]byte, error) {
	size := math.Abs(v)
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return b, fmt.Errorf("a figure came out as %v, which is %w", v, ErrNotFinite)
	case size > largest:
		return b, fmt.Errorf("the figure %g is out of range and %w", v, ErrNotFinite)
	}
	steps, _, ok := decimal.Nearest(size, decimals)
	if !ok {
		return appendSlowly(b, v, decimals), nil
	}
	if v < 0 && steps > 0 {
		b = append(b, '-')
	}
	return decimal.Append(b, steps, decimals), nil
}

// AppendBelow appends v, which is not below 0, with exactly that many decimals and
// never a figure above v: what lies behind the last decimal is cut off. Only a v that
// lies within a part in 10⁹ beneath the next figure is taken for that figure, so that
// 300 mm/s, calculated as 0.29999999999999999 m/s, stay 0.3.
func AppendBelow(b []byte, v float64, decimals int) ([]byte, error) {
	steps, ok := decimal.Below(math.Abs(v), decimals)
	if !ok || v < 0 || v > largest {
		return AppendFixed(b, v, decimals) // to refuse it, or since a decimal is less than the noise
	}
	return decimal.Append(b, steps, decimals), nil
}

// appendSlowly is AppendFixed for any number of digits.
func appendSlowly(b []byte, v float64, decimals int) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, awayFromTie(v, decimals), 'f', decimals, 64)
	if b[start] == '-' && allZero(b[start+1:]) {
		b = append(b[:start], b[start+1:]...)
	}
	return b
}

// awayFromTie moves a value that lies exactly halfway between two results to the
// next one further out, since strconv would round it to the even neighbour. Such
// a value, an odd number of halves of 10⁻ᵈ, is an odd whole number when doubled
// d+1 times, and doubling is exact.
func awayFromTie(v float64, decimals int) float64 {
	if scaled := math.Ldexp(v, decimals+1); math.Abs(math.Mod(scaled, 2)) == 1 {
		return math.Nextafter(v, math.Copysign(math.Inf(1), v))
	}
	return v
}

func allZero(digits []byte) bool {
	for _, c := range digits {
		if c != '0' && c != '.' {
			return false
		}
	}
	return true
}

// appendTurn appends an angle as AppendFixed does, except that half a turn
// backwards, also one that only rounds to it, is written as half a turn forwards:
// a rotary axis sent to 180 in one slot and -180 in the next would make a whole turn
// in between. half is what half a turn has in the angle's unit.
func appendTurn(b []byte, angle, half float64, decimals int) ([]byte, error) {
	start := len(b)
	b, err := AppendFixed(b, angle, decimals)
	if err != nil || b[start] != '-' || math.Abs(angle) < half-1 || math.Abs(angle) > half+1 {
		return b, err
	}
	var room [32]byte
	if forwards, _ := AppendFixed(room[:0], half, decimals); bytes.Equal(b[start+1:], forwards) {
		b = append(b[:start], forwards...)
	}
	return b, nil
}
