package arm

import "math"

// mostTerms is the highest multiple of the angle in a series.
const mostTerms = 8

// series is f(θ) = a₀ + Σ aₖ cos kθ + bₖ sin kθ, k from 1 to n: what becomes of any polynomial
// in the sine and cosine of one joint's angle. b[0] is nothing.
type series struct {
	n    int
	a, b [mostTerms + 1]float64
}

// at returns f and its first two derivatives by radians.
func (f *series) at(d direction) (value, slope, bend float64) {
	value = f.a[0]
	kth := d
	for k := 1; k <= f.n; k++ {
		here, along := float64(f.a[k]*kth.cos)+float64(f.b[k]*kth.sin), float64(f.b[k]*kth.cos)-float64(f.a[k]*kth.sin)
		times := float64(k)
		value += here
		slope += float64(times * along)
		bend -= float64(times * times * here)
		kth = kth.plus(d)
	}
	return value, slope, bend
}

// bounds returns what |f|, and what |f″|, never exceed.
func (f *series) bounds() (value, bend float64) {
	value = math.Abs(f.a[0])
	for k := 1; k <= f.n; k++ {
		amplitude := math.Sqrt(float64(f.a[k]*f.a[k]) + float64(f.b[k]*f.b[k]))
		value += amplitude
		bend += float64(k*k) * amplitude
	}
	return value, bend
}

const (
	// touching is how near f comes to 0, in parts of its bound, where two roots that have become
	// one still count: rounding may have lifted f off the axis there. A double root that was moved by
	// rounding e lies √e away: polishing brings it back.
	touching = 1e-11
	// overlap is how far pieces reach over their ends, in radians, so that no root falls between two.
	overlap = 1e-11
	// narrow is half the width, in radians, below which a piece is not divided further: there f is a
	// parabola, but for what rounding does to it.
	narrow = 1e-6
)

// piece is the angles that are no more than half the width away from the middle.
type piece struct {
	middle, half direction
	h            float64 // half the width in radians
}

// roots adds every real root of f, one way round the circle but for a hair; a root may come twice. It
// reports false where f is 0 for every angle, as far as rounding lets see.
//
// Why none is missed: a piece is dropped only where |f| at its middle is more than slope and bend can
// take away within it (Taylor's theorem with the bound of f″), and it is taken for a single root
// only where the slope cannot change its sign within it. All other pieces are halved.
func (f *series) roots(out []direction) ([]direction, bool) {
	size, bend := f.bounds()
	if !(size > 0) {
		return out, false
	}
	pieces := 4 * f.n
	p := piece{half: toward(180 / float64(pieces)), h: math.Pi / float64(pieces)}
	p.middle = direction{-p.half.cos, -p.half.sin}
	step := p.half.plus(p.half)
	for range pieces {
		out = f.within(p, size, bend, out)
		p.middle = p.middle.plus(step)
	}
	return out, true
}

// within adds the roots of one piece.
func (f *series) within(p piece, size, most float64, out []direction) []direction {
	value, slope, bend := f.at(p.middle)
	turns := float64(most * p.h)
	switch {
	case math.Abs(value) > float64((math.Abs(slope)+turns/2)*p.h)+float64(touching*size):
		return out
	case math.Abs(slope) > turns: // f rises or falls all along
		return f.single(p, value, slope, out)
	case p.h < narrow:
		return p.parabola(value, slope, bend, size, out)
	}
	cos := math.Sqrt((1 + p.half.cos) / 2)
	p.half, p.h = direction{cos, p.half.sin / (2 * cos)}, p.h/2
	middle := p.middle
	p.middle = middle.plus(p.half.minus())
	out = f.within(p, size, most, out)
	p.middle = middle.plus(p.half)
	return f.within(p, size, most, out)
}

// tangent returns the direction of which the tangent of half the angle is t: exactly of length 1, without
// a sine.
func tangent(t float64) direction {
	tt := float64(t * t)
	return direction{(1 - tt) / (1 + tt), 2 * t / (1 + tt)}
}

// single adds the one root of a piece in which f rises or falls all along, if it is there: Newton's
// steps in the tangent of half the angle from the middle, halving where one would leave the bracket. A root at the end
// of a piece comes twice.
func (f *series) single(p piece, value, slope float64, out []direction) []direction {
	hi := p.half.sin/(1+p.half.cos) + overlap
	lo := -hi
	atLo, _, _ := f.at(p.middle.plus(tangent(lo)))
	atHi, _, _ := f.at(p.middle.plus(tangent(hi)))
	if atLo != 0 && atHi != 0 && (atLo > 0) == (atHi > 0) {
		return out
	}
	x, at := 0.0, p.middle
	for range 60 {
		if (value > 0) == (atHi > 0) {
			hi = x
		} else {
			lo = x
		}
		next := x - float64(value/slope)*(1+float64(x*x))/2
		if !(next >= lo && next <= hi) {
			next = lo + (hi-lo)/2
		}
		if math.Abs(next-x) < 1e-15 {
			break
		}
		x = next
		at = p.middle.plus(tangent(x))
		value, slope, _ = f.at(at)
	}
	return append(out, at)
}

// parabola adds the roots of a piece so narrow that f is a parabola in it: those that are inside; and where rounding could
// have made one of two or two of one, its lowest point, and both sides of it as far away as the roots can be.
func (p piece) parabola(value, slope, bend, size float64, out []direction) []direction {
	const rounding = 1e-14
	wide := 1.5 * p.h
	if rest := float64(slope*slope) - float64(2*value*bend); rest > rounding*size*math.Abs(bend) {
		far := -slope - math.Copysign(math.Sqrt(rest), slope)
		for _, x := range [2]float64{far / bend, 2 * value / far} {
			if math.Abs(x) <= wide {
				out = append(out, p.middle.plus(tangent(x/2)))
			}
		}
		return out
	}
	if lowest := -slope / bend; math.Abs(lowest) <= wide {
		hair := math.Sqrt(rounding * size / math.Abs(bend))
		for _, x := range [3]float64{lowest, lowest - hair, lowest + hair} {
			out = append(out, p.middle.plus(tangent(x/2)))
		}
	}
	return out
}
