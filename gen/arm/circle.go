package arm

import (
	"math"

	"gridferry/gen/geom"
)

// mostTerms is the highest multiple of the angle in a series.
const mostTerms = 8

// series is f(θ) = a₀ + Σ aₖ cos kθ + bₖ sin kθ, k from 1 to n: what becomes of any polynomial
// in the sine and cosine of one joint's angle. b[0] is nothing.
type series struct {
	n    int
	a, b [mostTerms + 1]float64
}

// at returns f and its first derivative (by radians) at an angle in degrees.
func (f *series) at(degrees float64) (value, slope float64) {
	s, c := geom.SinCos(degrees)
	value = f.a[0]
	sk, ck := s, c
	for k := 1; k <= f.n; k++ {
		value += float64(f.a[k]*ck) + float64(f.b[k]*sk)
		slope += float64(k) * (float64(f.b[k]*ck) - float64(f.a[k]*sk))
		sk, ck = float64(sk*c)+float64(ck*s), float64(ck*c)-float64(sk*s)
	}
	return value, slope
}

// bounds returns what |f|, and what |f″| (by radians), never exceed.
func (f *series) bounds() (value, bend float64) {
	value = math.Abs(f.a[0])
	for k := 1; k <= f.n; k++ {
		amplitude := math.Hypot(f.a[k], f.b[k])
		value += amplitude
		bend += float64(k*k) * amplitude
	}
	return value, bend
}

// touching is how near f comes to 0, in parts of its bound, where two roots that have become
// one still count: rounding may have lifted f off the axis there. A double root that was moved by
// rounding e lies √e away: polishing brings it back.
const touching = 1e-11

// overlap is how far pieces reach over their ends, in degrees, so that no root falls between two.
const overlap = 1e-9

// narrow is the half width in degrees below which a piece is not divided further.
const narrow = 1e-5

// roots adds every real root of f in (-180, 180], in degrees, in rising order but for a hair;
// a root may come twice. It reports false where f is 0 for every angle, as far as rounding lets see.
//
// Why none is missed: a piece is dropped only where |f| at its middle is more than slope and bend can
// take away within it (Taylor's theorem with the bound of f″), and it is taken for a single root
// only where the slope cannot change its sign within it. All other pieces are halved.
func (f *series) roots(out []float64) ([]float64, bool) {
	size, bend := f.bounds()
	if !(size > 0) {
		return out, false
	}
	pieces := 4 * f.n
	half := 180 / float64(pieces)
	for i := range pieces {
		out = f.within(float64(2*i+1)*half-180, half, size, bend, out)
	}
	return out, true
}

// within adds the roots of one piece, given by its middle and half its width in degrees.
func (f *series) within(middle, half, size, bend float64, out []float64) []float64 {
	h := half * (math.Pi / 180)
	value, slope := f.at(middle)
	reach := float64(math.Abs(slope)*h) + float64(bend*h)*h/2
	switch {
	case math.Abs(value) > reach+touching*size:
		return out
	case math.Abs(slope) > float64(bend*h): // f rises or falls all along
		return f.single(middle, half, value, slope, out)
	case half < narrow:
		if n := len(out); n > 0 && middle-out[n-1] < 4*narrow {
			return out
		}
		return append(out, middle)
	}
	out = f.within(middle-half/2, half/2, size, bend, out)
	return f.within(middle+half/2, half/2, size, bend, out)
}

// single adds the one root of a piece in which f rises or falls all along, if it is there: Newton's
// steps, halving where one would leave the bracket. A root at the end of a piece comes twice.
func (f *series) single(middle, half, value, slope float64, out []float64) []float64 {
	lo, hi := middle-half-overlap, middle+half+overlap
	atLo, _ := f.at(lo)
	atHi, _ := f.at(hi)
	if atLo != 0 && atHi != 0 && (atLo > 0) == (atHi > 0) {
		return out
	}
	x := middle
	for range 60 {
		if (value > 0) == (atHi > 0) {
			hi = x
		} else {
			lo = x
		}
		next := x - float64(value/slope*(180/math.Pi))
		if !(next > lo && next < hi) {
			next = lo + (hi-lo)/2
		}
		if math.Abs(next-x) < 1e-13 {
			break
		}
		x = next
		value, slope = f.at(x)
	}
	return append(out, x)
}
