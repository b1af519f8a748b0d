// Package decimal rounds numbers to decimals, exactly: from the value that a float64
// has, never from its shortest decimal form.
package decimal

import "math"

// powers are the powers of ten that numbers with so many decimals are counted in.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// halvesEnd is where a float64 ceases to tell a half from its neighbours.
const halvesEnd = 1 << 52

// Nearest is a number of 0 or more as a whole number of its last decimals, halves
// rounded up; half tells that it was exactly one. It is not ok for more digits than a
// float64 tells apart, more than nine decimals among them.
//
// The product with a power of ten, as a float64, may lie beside the true one by half of
// its last place: less than its distance from any half, unless it is one. Then the sign
// of what is left of the true product, which a fused multiply-add gives, decides.
func Nearest(size float64, decimals int) (steps uint64, half, ok bool) {
	if decimals < 0 || decimals >= len(powers) {
		return 0, false, false
	}
	power := powers[decimals]
	product := float64(size * power)
	if !(product < halvesEnd) {
		return 0, false, false
	}
	steps = uint64(product)
	switch rest := product - float64(steps); { // exact: both are below 2⁵³
	case rest > 0.5:
		steps++
	case rest == 0.5:
		beyond := math.FMA(size, power, -product)
		if half = beyond == 0; beyond >= 0 {
			steps++
		}
	}
	return steps, half, true
}

// Below is a number of 0 or more cut off behind its last decimal, as a whole number of
// those: the result is not above the number, but where that lies beneath the next figure
// by no more than a part in 10⁹ of itself (and half a decimal), which is what arithmetic
// in float64 leaves, and is taken for that figure. It is not ok where Nearest is not.
func Below(size float64, decimals int) (steps uint64, ok bool) {
	if decimals < 0 || decimals >= len(powers) {
		return 0, false
	}
	product := float64(size * powers[decimals])
	if !(product < halvesEnd) {
		return 0, false
	}
	steps = uint64(product)
	rest := product - float64(steps) // exact: both are below 2⁵³
	if 1-rest <= min(float64(noise*product), 0.5) {
		steps++
	}
	return steps, true
}

// noise is how far arithmetic may put a figure beneath the one that is meant, as a part
// of it: two or three roundings of 10⁻¹⁶ each, with room to spare.
const noise = 1e-9

// Append appends steps × 10⁻ᵈ with d decimals; no point without them.
func Append(b []byte, steps uint64, decimals int) []byte {
	var digits [24]byte
	at := len(digits)
	for i := 0; i <= decimals || steps > 0; i++ {
		if i == decimals && i > 0 {
			at--
			digits[at] = '.'
		}
		at--
		digits[at] = byte('0' + steps%10)
		steps /= 10
	}
	return append(b, digits[at:]...)
}
