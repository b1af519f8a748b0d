package arm

import "math"

// sieve finds the real roots of a series.
//
// Why none is missed: a piece of the circle is dropped only where |f| at its middle is more than slope and bend can
// take away within it (Taylor's theorem with the bound of f‴) and rounding can, and it is taken for a single root
// only where the slope cannot change its sign within it. All other pieces are halved, until f is a parabola in
// them or nothing but rounding.
type sieve struct {
	*series
	rounding float64 // what rounding may have done to f; where it is no more off 0 a root counts
	double   float64 // where it is no more off 0 a double root may be two, or none
	roots    angles  // one way round the circle but for a hair; a root may come twice
	touches  bool    // rounding hides whether some roots are one, two or none
	flats    [8]flat // where rounding hides all
	parts    int     // how many flats there are

	third float64 // what |f‴| never exceeds
	last  int     // how many pieces the last flat is of, 0 where it is over
}

// angles are what a sieve finds: room for all roots of a series, each of them thrice. It stays off the heap, as no slice would.
type angles struct {
	at [6 * mostTerms]direction
	n  int
}

func (a *angles) add(d direction) {
	if a.n < len(a.at) {
		a.at[a.n] = d
		a.n++
	}
}

// flat is a part of the circle where a series is nothing but rounding.
type flat struct {
	from, to direction
	width    float64 // radians
}

const (
	// firstHalving is how often the circle is halved before pieces are looked at.
	firstHalving = 3
	// narrow is half the width, in radians, below which a piece is not halved further: there f is a parabola, but for
	// what rounding does to it; mostHalvings is what it takes to get there.
	narrow, mostHalvings = 1e-6, 22
	// wide is half the width of pieces in which f is a parabola or nothing but rounding.
	wide = 20 * narrow
	// overlap is how far pieces reach over their ends, in radians, so that no root falls between two.
	overlap = 1e-11
	// touching is how near f comes to 0, in parts of its bound, where two roots that have become one still count,
	// if nothing better is known of rounding; and rounding is what makes one of two or two of one.
	touching, rounding = 1e-11, 0.5e-14
)

// halves are half the widths of pieces.
var halves = func() (list [mostHalvings + 2]direction) {
	width := 180.0
	for i := range list {
		list[i] = toward(width)
		width /= 2
	}
	return list
}()

// roots adds every real root of f; it reports false where f is 0 for every angle.
func (f *series) roots(out []direction) ([]direction, bool) {
	bound := f.bound()
	if !(bound > 0) {
		return out, false
	}
	s := sieve{series: f, rounding: touching * bound, double: rounding * bound}
	s.sift()
	for _, part := range s.flats[:s.parts] {
		s.roots.add(part.from)
		s.roots.add(part.to)
	}
	return append(out, s.roots.at[:s.roots.n]...), true
}

func (s *sieve) sift() {
	for k := 1; k <= s.n; k++ {
		s.third += float64(float64(k*k*k) * s.amplitude(k))
	}
	s.within(direction{1, 0}, math.Pi, 0)
}

// within finds the roots of one piece, given by its middle, half its width in radians, and how often the circle was halved.
func (s *sieve) within(middle direction, h float64, halved int) {
	if halved >= firstHalving && s.settled(middle, h, halved) {
		return
	}
	half := halves[halved+1]
	s.within(middle.plus(half.minus()), h/2, halved+1)
	s.within(middle.plus(half), h/2, halved+1)
}

// settled reports whether a piece need not be halved.
func (s *sieve) settled(middle direction, h float64, halved int) bool {
	value, slope, bend := s.at(middle)
	size, steep := math.Abs(value), math.Abs(slope)
	most := math.Abs(bend) + float64(s.third*h)/2
	reach := float64((steep + float64((math.Abs(bend)+float64(s.third*h)/3)*h)/2) * h)
	if size+reach <= s.rounding && h > wide {
		s.flat(middle, h, halves[halved])
		return true
	}
	switch {
	case size > reach+s.rounding:
	case steep > float64(most*h): // f rises or falls all along
		s.single(middle, halves[halved], value, slope)
	case h < narrow:
		s.parabola(middle, h, value, slope, bend)
	default:
		return false
	}
	s.last = 0
	return true
}

// flat adds a piece to the last flat, or begins one.
func (s *sieve) flat(middle direction, h float64, half direction) {
	if s.last == 0 && s.parts < len(s.flats) {
		s.flats[s.parts] = flat{from: middle.plus(half.minus())}
		s.parts++
	}
	part := &s.flats[s.parts-1]
	part.to = middle.plus(half)
	part.width += 2 * h
	s.last++
}

// single adds the one root of a piece in which f rises or falls all along, if it is there: Newton's
// steps in the tangent of half the angle from the middle, halving where one would leave the bracket. A root
// at the end of a piece comes twice.
func (s *sieve) single(middle, half direction, value, slope float64) {
	hi := half.sin/(1+half.cos) + overlap
	lo := -hi
	atLo, _, _ := s.at(middle.plus(tangent(lo)))
	atHi, _, _ := s.at(middle.plus(tangent(hi)))
	if atLo != 0 && atHi != 0 && (atLo > 0) == (atHi > 0) {
		return
	}
	x, at := 0.0, middle
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
		step := math.Abs(next - x)
		x = next
		at = middle.plus(tangent(x))
		if step < 1e-10 { // the next one would be of the order of its square
			break
		}
		value, slope, _ = s.at(at)
	}
	s.roots.add(at)
}

// tangent returns the direction of which the tangent of half the angle is t: exactly of length 1, without
// a sine.
func tangent(t float64) direction {
	tt := float64(t * t)
	return direction{(1 - tt) / (1 + tt), 2 * t / (1 + tt)}
}

// parabola adds the roots of a piece so narrow that f is a parabola in it: those that are inside; and where rounding could
// have made one of two or two of one, its lowest point, and both sides of it as far away as the roots can be.
func (s *sieve) parabola(middle direction, h, value, slope, bend float64) {
	wide := 1.5 * h
	if rest := float64(slope*slope) - float64(2*value*bend); rest > 2*s.double*math.Abs(bend) {
		far := -slope - math.Copysign(math.Sqrt(rest), slope)
		for _, x := range [2]float64{far / bend, 2 * value / far} {
			if math.Abs(x) <= wide {
				s.roots.add(middle.plus(tangent(x / 2)))
			}
		}
		return
	}
	if lowest := -slope / bend; math.Abs(lowest) <= wide {
		s.touches = true
		hair := math.Sqrt(2 * s.double / math.Abs(bend))
		for _, x := range [3]float64{lowest, lowest - hair, lowest + hair} {
			s.roots.add(middle.plus(tangent(x / 2)))
		}
	}
}
