package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/geom"
)

func randomBounds(r *rand.Rand, spread float64) Bounds {
	lo := geom.Vec{X: (r.Float64() - 0.5) * spread, Y: (r.Float64() - 0.5) * spread, Z: (r.Float64() - 0.5) * spread}
	return Bounds{lo, lo.Add(randomSize(r))}
}

// randomWay is mostly any way, at times along an axis or none at all.
func randomWay(r *rand.Rand, spread float64) geom.Vec {
	way := randomPose(r, spread).T
	if r.IntN(3) == 0 {
		way.X = 0
	}
	if r.IntN(3) == 0 {
		way.Y = 0
	}
	if r.IntN(4) == 0 {
		way.Z = 0
	}
	return way
}

// TestAlongHoldsEveryPlaceOnTheWay: the box around a way is the least one that holds
// the box at both ends.
func TestAlongHoldsEveryPlaceOnTheWay(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	for range 1000 {
		b, from, to := randomBounds(r, 100), randomPose(r, 300).T, randomPose(r, 300).T
		first, last := Bounds{b.Lo.Add(from), b.Hi.Add(from)}, Bounds{b.Lo.Add(to), b.Hi.Add(to)}
		if got, want := b.Along(from, to), first.Around(&last); got != want {
			t.Fatalf("%v from %v to %v: %v, wanted %v", b, from, to, got, want)
		}
	}
}

// TestPassageAgainstSamples moves a box along a way in a thousand steps: inside the
// passage every step overlaps, outside it none does.
func TestPassageAgainstSamples(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	met := 0
	for range 3000 {
		a, b := randomBounds(r, 100), randomBounds(r, 100)
		from, way := randomPose(r, 120).T, randomWay(r, 300)
		begin, end, ok := a.Passage(&b, from, way)
		if ok {
			met++
		}
		const steps = 1000
		for k := range steps + 1 {
			f := float64(k) / steps
			at := from.Add(way.Scale(f))
			here := Bounds{a.Lo.Add(at), a.Hi.Add(at)}
			inside := ok && f > begin && f < end
			if math.Abs(f-begin) > 1e-9 && math.Abs(f-end) > 1e-9 && here.Overlaps(&b) != inside {
				t.Fatalf("%v by %v to %v: at %g they overlap: %t; the passage is %g to %g (%t)", a, from, way, f, !inside, begin, end, ok)
			}
		}
	}
	if met < 300 || met > 2500 {
		t.Errorf("%d of 3000 met: the test proves little", met)
	}
}

// TestPassageAgreesWithDepth: an upright block that is swept reaches into another
// exactly where the passage of its bounds is not empty.
func TestPassageAgreesWithDepth(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	met := 0
	for range 3000 {
		a, b := Block(geom.Identity, randomSize(r)), Block(geom.Pose{R: geom.IdentityRot(), T: randomPose(r, 200).T}, randomSize(r))
		from, way := randomPose(r, 200).T, randomWay(r, 200)
		box, other := a.Bounds(), b.Bounds()
		_, _, ok := box.Passage(&other, from, way)
		a.Centre = from
		swept := a.Swept(way)
		if depth := deep(&b, &swept); ok != (depth > 0) && math.Abs(depth) > 1e-9 {
			t.Fatalf("the depth is %g, but the passage says %t", depth, ok)
		}
		if ok {
			met++
		}
	}
	if met < 300 || met > 2500 {
		t.Errorf("%d of 3000 met: the test proves little", met)
	}
}
