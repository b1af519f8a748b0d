package move

import (
	"math"
	"strconv"

	"gridferry/gen/decimal"
)

// decimals is how many a number of the list has at most: a thousandth of what the
// list promises, and coarse enough to be the same on every processor.
const decimals = 9

// appendNumber writes a number without the zeros at its end. It rounds from halfway to
// the even side, as strconv does, which has no fast way to so many decimals and
// makes the whole list take 1.3 to 1.6 times as long.
func appendNumber(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, '0') // never reached: nothing in a plan is NaN or infinite
	}
	n, half, ok := decimal.Nearest(math.Abs(v), decimals)
	if !ok {
		return trimmed(strconv.AppendFloat(b, v, 'f', decimals, 64))
	}
	if half {
		n &^= 1 // it was rounded up
	}
	if v < 0 && n > 0 {
		b = append(b, '-')
	}
	digits := decimals
	switch { // people write few decimals or none
	case n%1_000_000_000 == 0:
		return strconv.AppendUint(b, n/1_000_000_000, 10)
	case n%1_000_000 == 0:
		n, digits = n/1_000_000, digits-6
	}
	for digits > 0 && n%10 == 0 {
		n, digits = n/10, digits-1
	}
	return decimal.Append(b, n, digits)
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
