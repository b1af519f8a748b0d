package check

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"gridferry/gen/geom"
)

// TestAxisDistance compares with brute force: the nearest of many points of
// the segment, by gonum's r3, then the nearest of many around that one.
func TestAxisDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 2000 {
		p := r3.Vec{X: r.NormFloat64() * 300, Y: r.NormFloat64() * 300, Z: r.NormFloat64() * 300}
		q := r3.Vec{X: r.NormFloat64() * 300, Y: r.NormFloat64() * 300, Z: r.NormFloat64() * 300}
		got := axisDistance(geom.Vec(p), geom.Vec(q))
		if want := sampledAxisDistance(p, q); math.Abs(got-want) > 1e-6 {
			t.Fatalf("from %v to %v: %.9f, wanted %.9f", p, q, got, want)
		}
	}
}

func sampledAxisDistance(p, q r3.Vec) float64 {
	from, to := 0.0, 1.0
	best, at := math.Inf(1), 0.0
	for range 12 {
		const samples = 50
		for k := range samples + 1 {
			f := from + (to-from)*float64(k)/samples
			s := r3.Add(p, r3.Scale(f, r3.Sub(q, p)))
			if d := r3.Norm(r3.Vec{X: s.X, Y: s.Y}); d < best {
				best, at = d, f
			}
		}
		step := (to - from) / samples
		from, to = math.Max(0, at-step), math.Min(1, at+step)
	}
	return best
}

// TestReachLooksCheaplyOnlyWhereItIsSure holds the looks without roots to the ones
// with them: on the edges and anywhere, what they let pass is in reach.
func TestReachLooksCheaplyOnlyWhereItIsSure(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	w := &reachWatcher{near: 150 * 150, far: 600 * 600, low: -20, high: 650}
	spot := func() geom.Vec {
		if r.IntN(2) == 0 {
			sin, cos := geom.SinCos(float64(r.IntN(24) * 15))
			edge := []float64{150, 150, 151, 600}[r.IntN(4)]
			return geom.Vec{X: edge * cos, Y: edge * sin, Z: []float64{-20, 0, 650}[r.IntN(3)]}
		}
		return geom.Vec{X: r.NormFloat64() * 300, Y: r.NormFloat64() * 300, Z: r.NormFloat64() * 300}
	}
	ends, ways, fine := 0, 0, 0
	for range 20000 {
		p, q := spot(), spot()
		away := axisDistance(p, p)
		if w.inside(p) {
			ends++
			if away < 150-hair || away > 600+hair || p.Z < -20 || p.Z > 650 {
				t.Fatalf("%v counts as inside", p)
			}
		}
		near := axisDistance(p, q)
		sound := near >= 150-hair || near >= min(away, axisDistance(q, q))
		if sound {
			fine++
		}
		if w.clear(p, q) {
			ways++
			if !sound {
				t.Fatalf("from %v to %v counts as clear, but passes at %g", p, q, near)
			}
		}
	}
	if ends < 5000 || ways < fine/2 {
		t.Errorf("%d ends, and %d of %d ways that are fine, were seen cheaply: few", ends, ways, fine)
	}
}

// TestAxisDistanceByHand: the chord of a circle of radius 5 that is 6 long is 4
// from its middle (Euclid's 3-4-5); behind its ends an end is nearest.
func TestAxisDistanceByHand(t *testing.T) {
	for _, c := range []struct {
		p, q geom.Vec
		want float64
	}{
		{geom.Vec{X: 4, Y: -3}, geom.Vec{X: 4, Y: 3, Z: 50}, 4},
		{geom.Vec{X: 3, Y: 4}, geom.Vec{X: 6, Y: 8}, 5},
		{geom.Vec{X: -7}, geom.Vec{X: 7}, 0},
		{geom.Vec{X: 3, Y: 4, Z: 1}, geom.Vec{X: 3, Y: 4, Z: 9}, 5},
	} {
		if got := axisDistance(c.p, c.q); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("from %v to %v: %g, wanted %g", c.p, c.q, got, c.want)
		}
	}
}
