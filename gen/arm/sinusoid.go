package arm

import "math"

// sinusoid is k + c·cos θ + s·sin θ.
type sinusoid struct{ k, c, s float64 }

func (f sinusoid) at(d direction) float64 { return f.k + float64(f.c*d.cos) + float64(f.s*d.sin) }

// slope is the derivative by radians.
func (f sinusoid) slope(d direction) float64 { return float64(f.s*d.cos) - float64(f.c*d.sin) }

// times returns the sinusoid multiplied by a number.
func (f sinusoid) times(x float64) sinusoid {
	return sinusoid{float64(f.k * x), float64(f.c * x), float64(f.s * x)}
}

func (f sinusoid) plus(g sinusoid) sinusoid { return sinusoid{f.k + g.k, f.c + g.c, f.s + g.s} }

// meeting is how far a sinusoid may stay off 0, in parts of its amplitude, and still count as touching
// it: polishing tells whether it does.
const meeting = 1e-5

// zeros returns both angles at which the sinusoid is 0, the same twice where it only touches; how many
// there are; and whether it is 0 for every angle, to a part of scale.
func (f sinusoid) zeros(scale float64) (at [2]direction, n int, always bool) {
	size := math.Sqrt(float64(f.c*f.c) + float64(f.s*f.s))
	if size <= 1e-12*scale {
		return at, 0, math.Abs(f.k) <= 1e-12*scale
	}
	x := -f.k / size
	if math.Abs(x) > 1+meeting {
		return at, 0, false
	}
	y := 0.0 // where rounding could have made one of two or two of one
	if rest := float64((1 - x) * (1 + x)); rest > 1e-14 {
		y = math.Sqrt(rest)
	}
	top, off := direction{f.c / size, f.s / size}, direction{min(max(x, -1), 1), y}
	return [2]direction{top.plus(off), top.plus(off.minus())}, 2, false
}

// addSquare adds a multiple of the square of a sinusoid to a series.
func (f *series) addSquare(times float64, g sinusoid) {
	f.n = max(f.n, 2)
	cc, ss := float64(g.c*g.c), float64(g.s*g.s)
	f.a[0] += float64(times * (float64(g.k*g.k) + (cc+ss)/2))
	f.a[1] += float64(2 * times * float64(g.k*g.c))
	f.b[1] += float64(2 * times * float64(g.k*g.s))
	f.a[2] += float64(times * (cc - ss) / 2)
	f.b[2] += float64(times * float64(g.c*g.s))
}

// add adds a multiple of a sinusoid to a series.
func (f *series) add(times float64, g sinusoid) {
	f.n = max(f.n, 1)
	f.a[0] += float64(times * g.k)
	f.a[1] += float64(times * g.c)
	f.b[1] += float64(times * g.s)
}
