package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// withRoots returns the series of n terms that is the product of sin((θ - r)/2) over 2n roots, from its values
// at many angles.
func withRoots(roots []float64) (f series) {
	f.n = len(roots) / 2
	const angles = 64
	for i := range angles {
		at := 360 * float64(i) / angles
		product := 1.0
		for _, r := range roots {
			s, _ := geom.SinCos((at - r) / 2)
			product *= 2 * s
		}
		f.a[0] += product / angles
		for k := 1; k <= f.n; k++ {
			s, c := geom.SinCos(at * float64(k))
			f.a[k] += 2 * product * c / angles
			f.b[k] += 2 * product * s / angles
		}
	}
	return f
}

// Every root of a series that was made of them is found again: single ones, close ones, and double ones.
func TestRootsAreFound(t *testing.T) {
	d := roll(9)
	var out []direction
	for range arms(t, 3000) {
		n := 1 + d.IntN(3) // of more, those that are close to many others drown in rounding
		want := make([]float64, 2*n)
		for i := range want {
			want[i] = d.angle()
			if i > 0 && d.IntN(4) == 0 {
				want[i] = want[i-1] + math.Pow(10, -1-9*d.Float64())*float64(d.IntN(2))
			}
		}
		f := withRoots(want)
		some := false
		if out, some = f.roots(out[:0]); !some {
			t.Fatalf("%v: f counts as 0", want)
		}
		for _, r := range want {
			// m roots close together are as far away as f takes to leave what rounding hides, with the others as they are.
			m, others := 0.0, 1.0
			for _, other := range want {
				if s, _ := geom.SinCos((r - other) / 2); math.Abs(s) <= 1e-3 {
					m++
				} else {
					others *= 2 * math.Abs(s)
				}
			}
			within := math.Pow(4*usualTouching*f.bound()/others, 1/m) + 1e-9 // radians
			if best := nearestRoot(out, r); best > within {
				t.Fatalf("roots %v: found none within %g of %v but at %g: %v", want, within, r, best, out)
			}
		}
	}
}

func nearestRoot(found []direction, degrees float64) float64 {
	best := math.Inf(1)
	for _, f := range found {
		best = min(best, math.Abs(turned(f.degrees()-degrees))*math.Pi/180)
	}
	return best
}

// What is found is a root, and where f stays off 0 nothing is.
func TestRootsAreRoots(t *testing.T) {
	d := roll(10)
	var out []direction
	count := 0
	for range arms(t, 3000) {
		f := series{n: 1 + d.IntN(mostTerms)}
		for k := range f.n + 1 {
			f.a[k], f.b[k] = d.NormFloat64(), d.NormFloat64()
		}
		out, _ = f.roots(out[:0])
		size := f.bound()
		for _, x := range out {
			if v, slope, _ := f.at(x); math.Abs(v) > 3*usualTouching*size+1e-12*math.Abs(slope)+1e-10*size {
				t.Fatalf("%+v: %g is no root: %v", f, v, x)
			}
		}
		count += len(out)
		f.a[0] = 1.001 * (size - math.Abs(f.a[0]))
		if out, _ = f.roots(out[:0]); len(out) > 0 {
			t.Fatalf("%+v has no root, found %v", f, out)
		}
	}
	if count == 0 {
		t.Error("no series had a root")
	}
	if _, some := (&series{n: 2}).roots(nil); some {
		t.Error("0 is not known as 0 everywhere")
	}
}

// Both zeros of a sinusoid, and none where it has none.
func TestZerosOfSinusoids(t *testing.T) {
	d := roll(11)
	for range arms(t, 5000) {
		one, other := toward(d.angle()), toward(d.angle())
		middle, _ := direction{one.cos + other.cos, one.sin + other.sin}.unit(0)
		half := middle.plus(one.minus())
		f := sinusoid{-half.cos, middle.cos, middle.sin}.times(300)
		at, n, always := f.zeros(1)
		if n != 2 || always {
			t.Fatalf("%+v: %d zeros, wanted 2", f, n)
		}
		for _, want := range []direction{one, other} {
			if best := nearestRoot(at[:], want.degrees()); best > 3e-7 {
				t.Errorf("%+v: zeros %v, wanted %v", f, at, want)
			}
		}
		f.k = 301
		if _, n, _ := f.zeros(1); n != 0 {
			t.Errorf("%+v has no zero, found %d", f, n)
		}
	}
	if _, _, always := (sinusoid{1e-14, 1e-14, 0}).zeros(1); !always {
		t.Error("0 is not known as 0 everywhere")
	}
}
