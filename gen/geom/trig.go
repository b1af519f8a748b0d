package geom

import "math"

// Taylor coefficients of sine and cosine, highest power first. Within 45° the
// first term left out is below 2⁻⁶⁰.
var (
	sinTerms = [...]float64{
		1.0 / 355687428096000, -1.0 / 1307674368000, 1.0 / 6227020800, -1.0 / 39916800,
		1.0 / 362880, -1.0 / 5040, 1.0 / 120, -1.0 / 6, 1,
	}
	cosTerms = [...]float64{
		-1.0 / 6402373705728000, 1.0 / 20922789888000, -1.0 / 87178291200, 1.0 / 479001600,
		-1.0 / 3628800, 1.0 / 40320, -1.0 / 720, 1.0 / 24, -1.0 / 2, 1,
	}
)

// SinCos returns the sine and cosine of an angle in degrees. Multiples of 90° are
// exact: a frame turned square to its parent has whole numbers in its matrix.
func SinCos(degrees float64) (sin, cos float64) {
	d := math.Mod(degrees, 360)
	quarter := math.Round(d / 90)
	x := (d - float64(quarter*90)) * (math.Pi / 180) // the difference is exact
	xx := float64(x * x)
	s, c := float64(x*horner(sinTerms[:], xx)), horner(cosTerms[:], xx)
	switch (int(quarter) + 4) % 4 {
	case 1:
		s, c = c, -s
	case 2:
		s, c = -s, -c
	case 3:
		s, c = -c, s
	}
	return s + 0, c + 0 // + 0 turns -0 into 0
}

// horner evaluates a polynomial, highest power first.
func horner(terms []float64, x float64) float64 {
	sum := 0.0
	for _, t := range terms {
		sum = float64(sum*x) + t
	}
	return sum
}

// Atan2 returns the angle of the point (x, y) from the X axis, in degrees in
// (-180, 180]; 0 for the origin. Never -0 and never -180.
func Atan2(y, x float64) float64 {
	if math.IsNaN(x) || math.IsNaN(y) {
		return math.NaN()
	}
	ax, ay := math.Abs(x), math.Abs(y)
	a := 0.0
	switch {
	case ay > ax:
		a = 90 - atan(ax/ay)
	case ax > 0:
		a = atan(ay / ax)
	}
	if x < 0 {
		a = 180 - a
	}
	if y < 0 && a < 180 {
		a = -a
	}
	return a + 0
}

// atanTerms is how many terms of the arc tangent's series are summed: within
// tan 22.5° the first one left out is below 2⁻⁶⁰.
const atanTerms = 22

// atanParts are 1/(2k+1), the terms' denominators.
var atanParts = func() (parts [atanTerms + 1]float64) {
	for k := range parts {
		parts[k] = 1 / float64(2*k+1)
	}
	return parts
}()

// atan returns the arc tangent of t in [0, 1], in degrees.
func atan(t float64) float64 {
	base := 0.0
	if t > math.Sqrt2-1 { // tan 22.5°: measure from 45° instead
		base, t = 45, (t-1)/(t+1)
	}
	tt, sum := float64(t*t), 0.0
	for k := atanTerms; k >= 0; k-- {
		sum = atanParts[k] - float64(tt*sum)
	}
	return base + float64(float64(t*sum)*(180/math.Pi))
}
