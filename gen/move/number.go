package move

import (
	"math"
	"math/bits"
	"strconv"
)

// decimals is how many a number of the list has at most: a thousandth of what the
// list promises, and coarse enough to be the same on every processor.
const (
	decimals = 9
	unit     = 1_000_000_000 // 10^decimals
)

// appendNumber writes a number without the zeros at its end.
func appendNumber(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, '0') // cannot get this far: nothing in a plan can be one
	}
	n, fits := billionths(math.Abs(v))
	if !fits {
		return trimmed(strconv.AppendFloat(b, v, 'f', decimals, 64))
	}
	if v < 0 && n > 0 {
		b = append(b, '-')
	}
	b = strconv.AppendUint(b, n/unit, 10)
	if rest := n % unit; rest > 0 {
		b = appendDecimals(b, rest)
	}
	return b
}

// trimmed takes the zeros away from the end of a number's decimals.
func trimmed(b []byte) []byte {
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if b[len(b)-1] == '.' {
		b = b[:len(b)-1]
	}
	return b
}

// appendDecimals writes what stands behind the point, of which there is some.
func appendDecimals(b []byte, rest uint64) []byte {
	digits := decimals
	if rest%1_000_000 == 0 { // mostly: people write a few decimals
		rest, digits = rest/1_000_000, digits-6
	}
	for rest%10 == 0 {
		rest, digits = rest/10, digits-1
	}
	var text [decimals + 1]byte
	for i := digits; i > 0; i-- {
		text[i] = byte('0' + rest%10)
		rest /= 10
	}
	text[0] = '.'
	return append(b, text[:digits+1]...)
}

// billionths is a positive number in units of the last decimal, rounded to the
// nearest of them and from halfway to the even one: what strconv rounds to, which has
// no quick way to so many decimals behind the point. It is exact. A number is
// m / 2^shift in whole numbers, and m times 10^9 fits into 128 bits; the division
// is a shift. False where the result does not fit.
func billionths(v float64) (uint64, bool) {
	if v >= 1<<33 {
		return 0, false
	}
	const fraction, bias = 52, 1023
	m, exponent := math.Float64bits(v)&(1<<fraction-1), int(math.Float64bits(v)>>fraction)
	if exponent == 0 {
		return 0, true // zero, or far less than half a billionth
	}
	hi, lo := bits.Mul64(m|1<<fraction, unit)
	// One bit more than the result tells whether it is past the middle.
	shift := bias + fraction - exponent - 1
	var twice uint64
	var more bool
	switch {
	case shift >= 128:
		return 0, true
	case shift >= 64:
		twice, more = hi>>(shift-64), lo != 0 || hi<<(128-shift) != 0
	default: // at least 18, or the number were too large
		twice, more = hi<<(64-shift)|lo>>shift, lo<<(64-shift) != 0
	}
	n := twice / 2
	if twice%2 == 1 && (more || n%2 == 1) {
		n++
	}
	return n, true
}
