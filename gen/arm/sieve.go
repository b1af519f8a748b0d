package arm

import "math"

// sieve finds the real roots of a series.
//
// Why none is missed: a piece of the circle is dropped only where |f| at its middle is more than slope and bend can
// take away within it (Taylor's theorem with the bound of f‴) and rounding can, and it is taken for a single root
// only where the slope cannot change its sign within it. All other pieces are halved, until f is a parabola in
// them or nothing but noise.
type sieve struct {
	*series
	touching float64 // where f comes no nearer to 0 there is no root; rounding may have lifted a double root off by as much
	noise    float64 // what may come of rounding when f is evaluated: below it nothing tells f from 0

	roots   angles  // one way round the circle but for a hair; a root may come twice
	touches bool    // noise hides whether some roots are one, two or none
	flats   [8]flat // where noise hides all
	parts   int     // how many flats there are

	third float64 // what |f‴| never exceeds
	last  flat    // the flat that the last piece belongs to, of width 0 where it belongs to none
}

// angles are what a sieve finds: room for all roots of a series, each of them thrice. It stays off the heap, as no slice would.
type angles struct {
	at   [6 * mostTerms]direction
	n    int
	full bool
}

func (a *angles) add(d direction) {
	if a.full = a.n == len(a.at); !a.full {
		a.at[a.n] = d
		a.n++
	}
}

// flat is a part of the circle where a series is nothing but noise.
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
	// wide is the width of flats that count as one root, or two.
	wide = 40 * narrow
	// overlap is how far pieces reach over their ends, in radians, so that no root falls between two.
	overlap = 1e-11
	// usualTouching and usualNoise are both, in parts of the bound of f, if nothing better is known.
	usualTouching, usualNoise = 1e-11, 0.5e-14
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
	s := sieve{series: f, touching: usualTouching * bound, noise: usualNoise * bound}
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
	s.close()
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
	if size+reach <= s.noise {
		s.flat(middle, h, halves[halved])
		return true
	}
	switch {
	case size > reach+s.touching:
	case steep > float64(most*h): // f rises or falls all along
		s.single(middle, halves[halved], value, slope)
	case h < narrow:
		s.parabola(middle, h, value, slope, bend)
	default:
		return false
	}
	s.close()
	return true
}

// flat adds a piece to the last flat, or begins one.
func (s *sieve) flat(middle direction, h float64, half direction) {
	if s.last.width == 0 {
		s.last.from = middle.plus(half.minus())
	}
	s.last.to = middle.plus(half)
	s.last.width += 2 * h
}

// close ends the last flat. A narrow one counts as a root if f is on one side of it above 0 and on the other below, else as two or
// none.
func (s *sieve) close() {
	part := s.last
	s.last = flat{}
	switch {
	case part.width == 0:
	case part.width > wide && s.parts < len(s.flats):
		s.flats[s.parts] = part
		s.parts++
	default:
		before, _, _ := s.at(part.from)
		behind, _, _ := s.at(part.to)
		s.touches = s.touches || part.width > wide || before > 0 == (behind > 0)
		s.roots.add(part.from)
		s.roots.add(part.from.plus(part.to.plus(part.from.minus()).half()))
		s.roots.add(part.to)
	}
}

// single adds the one root of a piece in which f rises or falls all along, if it is there: Newton's
// steps in the tangent of half the angle from the middle, halving where one would leave the bracket. A root
// at the end of a piece comes twice.
func (s *sieve) single(middle, half direction, value, slope float64) {
	hi := half.sin/(1+half.cos) + overlap
	lo := -hi
	atLo, _, _ := s.at(middle.plus(tangent(lo)))
	atHi, _, _ := s.at(middle.plus(tangent(hi)))
	if (atLo > 0) == (atHi > 0) {
		// rounding may have moved the root from here to the next piece, and from there to here
		switch least := min(math.Abs(atLo), math.Abs(atHi)); {
		case least > s.noise:
		case least == math.Abs(atLo):
			s.roots.add(middle.plus(tangent(lo)))
		default:
			s.roots.add(middle.plus(tangent(hi)))
		}
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
	if rest := float64(slope*slope) - float64(2*value*bend); rest > 2*s.noise*math.Abs(bend) {
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
		hair := math.Sqrt(2 * s.noise / math.Abs(bend))
		for _, x := range [3]float64{lowest, lowest - hair, lowest + hair} {
			s.roots.add(middle.plus(tangent(x / 2)))
		}
	}
}
