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
