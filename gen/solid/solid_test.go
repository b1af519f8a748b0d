package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"gridferry/gen/geom"
)

// The references below share nothing with the code but its input: distances
// come from points of both solids, by gonum's r3.

// point is one point of a zonotope, each t in [-1, 1].
func point(s *Solid, t []float64) r3.Vec {
	p := r3.Vec(s.Centre)
	for i := range s.n {
		p = r3.Add(p, r3.Scale(t[i], r3.Vec(s.edges[i])))
	}
	return p
}

// distance is the least distance of two solids: the square of the distance is
// convex in the t of all edges, so that going down along one t at a time ends
// at the least one.
func distance(a, b *Solid) float64 {
	t, u := make([]float64, a.n), make([]float64, b.n)
	gap := math.Inf(1)
	for range 200000 {
		between := r3.Sub(point(b, u), point(a, t))
		for i := range t {
			between = slide(t, i, r3.Scale(-1, r3.Vec(a.edges[i])), between)
		}
		for i := range u {
			between = slide(u, i, r3.Vec(b.edges[i]), between)
		}
		now := r3.Norm(between)
		if now < 1e-9 || gap-now < 1e-14 {
			return now
		}
		gap = now
	}
	return gap
}

// slide moves t[i] to where between, which changes by edge, is shortest.
func slide(t []float64, i int, edge, between r3.Vec) r3.Vec {
	if r3.Norm2(edge) == 0 {
		return between
	}
	best := math.Max(-1, math.Min(1, t[i]-r3.Dot(between, edge)/r3.Norm2(edge)))
	between = r3.Add(between, r3.Scale(best-t[i], edge))
	t[i] = best
	return between
}

func randomPose(r *rand.Rand, spread float64) geom.Pose {
	at := func() float64 { return (r.Float64() - 0.5) * spread }
	angle := func() float64 { return float64(r.IntN(25))*15 - 180 }
	return geom.At(geom.Vec{X: at(), Y: at(), Z: at()}, geom.RPY{Roll: angle(), Pitch: angle(), Yaw: angle()})
}

func randomSize(r *rand.Rand) geom.Vec {
	return geom.Vec{X: 1 + r.Float64()*60, Y: 1 + r.Float64()*60, Z: 1 + r.Float64()*60}
}

// pairs are boxes against points, boxes and prisms that are swept.
func pairs(n int, yield func(a, b *Solid)) {
	r := rand.New(rand.NewPCG(1, 2))
	for k := range n {
		a := Block(randomPose(r, 100), randomSize(r))
		var b Solid
		switch k % 3 {
		case 0:
			b = Point(randomPose(r, 300).T)
		case 1:
			b = Block(randomPose(r, 200), randomSize(r))
		case 2:
			b = Prism(randomPose(r, 200).T, randomPose(r, 200).T, 1+r.Float64()*40)
		}
		b = b.Swept(randomPose(r, 200).T)
		yield(&a, &b)
	}
}

func TestDepthAgreesWithDistance(t *testing.T) {
	apart, together := 0, 0
	pairs(3000, func(a, b *Solid) {
		depth, gap := deep(a, b), distance(a, b)
		switch {
		case depth > 1e-6:
			together++
			if gap > 1e-6 {
				t.Fatalf("depth %g, but they are %g apart", depth, gap)
			}
		case depth < -1e-6:
			apart++
			if gap < 1e-6 {
				t.Fatalf("depth %g, but they meet (%g)", depth, gap)
			}
		}
	})
	if apart < 200 || together < 200 {
		t.Errorf("%d pairs were apart and %d together: the test proves little", apart, together)
	}
}

// deep is how deep two solids reach into each other, 0 or less where they are apart.
func deep(a, b *Solid) float64 { return DepthOver(a, b, 0) }

// TestDepthOverIsTheDepthAboveItsLimit: above the limit it is the depth to the last
// bit, and below it stays below.
func TestDepthOverIsTheDepthAboveItsLimit(t *testing.T) {
	above := 0
	pairs(3000, func(a, b *Solid) {
		depth := deep(a, b)
		for _, limit := range []float64{0.01, 5, 20} {
			switch got := DepthOver(a, b, limit); {
			case depth > limit && got != depth:
				t.Fatalf("over %g it is %g, wanted %g", limit, got, depth)
			case depth <= limit && got > limit:
				t.Fatalf("over %g it is %g, but the depth is %g", limit, got, depth)
			case depth > limit:
				above++
			}
		}
	})
	if above < 500 || above > 8500 {
		t.Errorf("%d of 9000 were above their limit: the test proves little", above)
	}
}

// TestDepthIsTheWayOut moves one solid in many directions: by the depth, some
// direction frees it; by any less, none does.
func TestDepthIsTheWayOut(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	seen := 0
	pairs(90, func(a, b *Solid) {
		depth := deep(a, b)
		if depth < 1e-3 {
			return
		}
		seen++
		for range 40 {
			moved := *b
			way := r3.Scale(depth-1e-6, r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}))
			moved.Centre = b.Centre.Add(geom.Vec(way))
			if gap := distance(a, &moved); gap > 1e-6 {
				t.Fatalf("a way of %g frees it by %g, less than the depth of %g", r3.Norm(way), gap, depth)
			}
		}
		if least := wayOut(a, b); math.Abs(least-depth) > 1e-6*math.Max(1, depth) {
			t.Fatalf("the shortest way out found by trying is %.9f, the depth %.9f", least, depth)
		}
	})
	if seen < 15 {
		t.Errorf("only %d pairs overlapped", seen)
	}
}

// wayOut tries directions: for each, the way out is how far the far corner of
// one solid reaches past the near corner of the other. The best of a coarse
// net is refined by smaller and smaller steps.
func wayOut(a, b *Solid) float64 {
	along := func(d r3.Vec) float64 {
		d = r3.Unit(d)
		out := r3.Dot(r3.Sub(r3.Vec(a.Centre), r3.Vec(b.Centre)), d)
		for i := range a.n {
			out += math.Abs(r3.Dot(r3.Vec(a.edges[i]), d))
		}
		for i := range b.n {
			out += math.Abs(r3.Dot(r3.Vec(b.edges[i]), d))
		}
		return out
	}
	least := math.Inf(1)
	const net = 30
	for i := range net {
		for j := range 2 * net {
			theta, phi := math.Pi*(float64(i)+0.5)/net, math.Pi*float64(j)/net
			d := r3.Vec{X: math.Sin(theta) * math.Cos(phi), Y: math.Sin(theta) * math.Sin(phi), Z: math.Cos(theta)}
			if along(d) < least*1.3 || math.IsInf(least, 1) {
				least = math.Min(least, refine(along, d))
			}
		}
	}
	return least
}

// refine walks downhill from a direction, by steps this way and that: the
// function has creases, along which only few ways lead down.
func refine(along func(r3.Vec) float64, d r3.Vec) float64 {
	r := rand.New(rand.NewPCG(7, 8))
	best := along(d)
	for step := 0.05; step > 1e-10; {
		moved := false
		for range 60 {
			way := r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
			next := r3.Unit(r3.Add(d, r3.Scale(step, way)))
			if v := along(next); v < best-1e-15 {
				best, d, moved = v, next, true
			}
		}
		if !moved {
			step /= 2
		}
	}
	return best
}

// TestSegmentAgainstSamples is brute force: ten thousand points of the segment
// against the box, in the box's own coordinates.
func TestSegmentAgainstSamples(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		in, half := randomPose(r, 50), randomSize(r)
		box := Block(in, half)
		from := randomPose(r, 250).T
		way := randomPose(r, 300).T
		segment := Point(from)
		segment = segment.Swept(way)
		least := sampled(in, half, from, way)
		if depth := deep(&box, &segment); depth > 1e-6 && least > 0.05 || depth < -1e-6 && least == 0 {
			t.Fatalf("depth %g, but the nearest of the samples is %g away", depth, least)
		}
		if gap := distance(&box, &segment); math.Abs(gap-least) > 0.05 {
			t.Fatalf("the reference says %g, the samples %g", gap, least)
		}
	}
}

func sampled(in geom.Pose, half, from, way geom.Vec) float64 {
	const samples = 10000
	back := in.Inverse()
	least := math.Inf(1)
	for k := range samples + 1 {
		p := back.Apply(from.Add(way.Scale(float64(k) / samples)))
		out := r3.Vec{X: math.Max(0, math.Abs(p.X)-half.X), Y: math.Max(0, math.Abs(p.Y)-half.Y), Z: math.Max(0, math.Abs(p.Z)-half.Z)}
		least = math.Min(least, r3.Norm(out))
	}
	return least
}

func TestPrismHoldsItsCylinder(t *testing.T) {
	const radius = 10
	prism := Prism(geom.Vec{}, geom.Vec{Z: 100}, radius)
	for k := range 360 {
		sin, cos := geom.SinCos(float64(k))
		inside := Point(geom.Vec{X: 9.999 * cos, Y: 9.999 * sin, Z: 50})
		outside := Point(geom.Vec{X: 10.2 * cos, Y: 10.2 * sin, Z: 50})
		if deep(&prism, &inside) <= 0 {
			t.Fatalf("at %d degrees the cylinder sticks out of its prism", k)
		}
		if deep(&prism, &outside) > 0 {
			t.Fatalf("at %d degrees the prism is more than 2 %% wider", k)
		}
	}
	if b := prism.Bounds(); b.Lo.Z != 0 || b.Hi.Z != 100 {
		t.Errorf("the prism goes from %g to %g, wanted 0 to 100", b.Lo.Z, b.Hi.Z)
	}
}

func TestDepthOfPlainBoxes(t *testing.T) {
	one := Block(geom.Identity, geom.Vec{X: 10, Y: 10, Z: 10})
	for _, c := range []struct {
		at   geom.Vec
		want float64
	}{
		{geom.Vec{X: 15}, 5},
		{geom.Vec{X: 15, Y: 18}, 2},
		{geom.Vec{X: 20}, 0},
		{geom.Vec{Z: -12}, 8},
	} {
		other := Block(geom.Pose{R: geom.IdentityRot(), T: c.at}, geom.Vec{X: 10, Y: 10, Z: 10})
		if got := deep(&one, &other); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("at %v the depth is %g, wanted %g", c.at, got, c.want)
		}
	}
}

func BenchmarkDepthBoxBox(b *testing.B) {
	one := Block(geom.At(geom.Vec{}, geom.RPY{Yaw: 30}), geom.Vec{X: 10, Y: 10, Z: 10})
	other := Block(geom.At(geom.Vec{X: 12}, geom.RPY{Roll: 20}), geom.Vec{X: 10, Y: 10, Z: 10})
	other = other.Swept(geom.Vec{Z: 70})
	for b.Loop() {
		deep(&one, &other)
	}
}
