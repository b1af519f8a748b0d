package arm

import "math"

// mostTerms is the highest multiple of the angle in a series.
const mostTerms = 12

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

// amplitude is that of the k-th multiple.
func (f *series) amplitude(k int) float64 {
	return math.Sqrt(float64(f.a[k]*f.a[k]) + float64(f.b[k]*f.b[k]))
}

// bound returns what |f| never exceeds.
func (f *series) bound() float64 {
	value := math.Abs(f.a[0])
	for k := 1; k <= f.n; k++ {
		value += f.amplitude(k)
	}
	return value
}

// samples is at how many places, evenly round the circle, a series is sampled at most.
const samples = 32

// places are where.
var places = func() (list [samples]direction) {
	for i := range list {
		list[i] = toward(360 * float64(i) / samples)
	}
	return list
}()

// through returns the series of degree n through values at every so many places, and the greatest amplitude that they
// have beyond it: in exact arithmetic 0, so that it shows what rounding is.
func through(values []float64, n int) (f series, rounding float64) {
	f.n = n
	every := samples / len(values)
	share := 2 / float64(len(values))
	for k := range len(values) / 2 {
		a, b := 0.0, 0.0
		for i, v := range values {
			at := &places[i*k*every%samples]
			a += float64(v * at.cos)
			b += float64(v * at.sin)
		}
		a, b = float64(a*share), float64(b*share)
		switch {
		case k == 0:
			f.a[0] = a / 2
		case k <= n:
			f.a[k], f.b[k] = a, b
		default:
			rounding = max(rounding, math.Sqrt(float64(a*a)+float64(b*b)))
		}
	}
	return f, rounding
}

// lows returns where a series has a minimum.
func (f *series) lows() (found angles) {
	d := series{n: f.n}
	for k := 1; k <= f.n; k++ {
		d.a[k], d.b[k] = float64(k)*f.b[k], -float64(k)*f.a[k]
	}
	s := sieve{series: &d, touching: usualNoise * d.bound(), noise: usualNoise * d.bound()}
	s.sift()
	for _, at := range s.roots.at[:s.roots.n] {
		if _, up, _ := d.at(at); up >= 0 {
			found.add(at)
		}
	}
	return found
}
