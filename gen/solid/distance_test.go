package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/geom"
)

// Two boxes that are apart along one axis, two that are apart at their corners, a line beside a box, and one within it.
func TestDistanceOfKnownPairs(t *testing.T) {
	unit := func(x, y, z float64) Solid {
		return Block(geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: x, Y: y, Z: z}}, geom.Vec{X: 1, Y: 1, Z: 1})
	}
	line := func(from, to geom.Vec) Solid { p := Point(from); return p.Swept(to.Sub(from)) }
	for _, c := range []struct {
		name string
		a, b Solid
		want float64
	}{
		{"side by side", unit(0, 0, 0), unit(5, 0.5, -0.5), 3},
		{"at their corners", unit(0, 0, 0), unit(3, 4, 5), math.Sqrt(1 + 4 + 9)},
		{"touching", unit(0, 0, 0), unit(2, 0, 0), 0},
		{"one in another", unit(0, 0, 0), unit(0.5, 0, 0), 0},
		{"a line along a box", unit(0, 0, 0), line(geom.Vec{X: -5, Y: 4}, geom.Vec{X: 5, Y: 4}), 3},
		{"a line past an edge", unit(0, 0, 0), line(geom.Vec{X: 4}, geom.Vec{Y: 4}), math.Sqrt2},
		{"two points", Point(geom.Vec{X: 1}), Point(geom.Vec{Y: 1}), math.Sqrt2},
	} {
		if got := Distance(&c.a, &c.b); math.Abs(got-c.want) > 1e-7 {
			t.Errorf("%s: %g, wanted %g", c.name, got, c.want)
		}
		if got := Distance(&c.b, &c.a); math.Abs(got-c.want) > 1e-7 {
			t.Errorf("%s, the other way round: %g, wanted %g", c.name, got, c.want)
		}
	}
}

// A distance is right if the plane through the nearest point, square to the way there, has all of the difference
// behind it, and that point is of the difference: going down to it in small steps does not come nearer, and comes near.
func TestDistanceOfRandomPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 7))
	vec := func(size float64) geom.Vec {
		return geom.Vec{X: size * (2*r.Float64() - 1), Y: size * (2*r.Float64() - 1), Z: size * (2*r.Float64() - 1)}
	}
	random := func() Solid {
		s := Block(geom.At(vec(80), geom.RPY{Roll: 360 * r.Float64(), Pitch: 360 * r.Float64(), Yaw: 360 * r.Float64()}), geom.Vec{X: 40 * r.Float64(), Y: 40 * r.Float64(), Z: 40 * r.Float64()})
		if r.IntN(2) == 0 {
			p := Point(vec(80))
			return p.Swept(vec(60))
		}
		return s.Swept(vec(30))
	}
	apart := 0
	for range 3000 {
		a, b := random(), random()
		difference := minus(&b, &a)
		nearest := difference.nearest()
		got, want := nearest.Norm(), difference.descended()
		if got > want+1e-6 || got < want-0.01*(1+want) {
			t.Fatalf("%g, by going down %g: %v %v", got, want, a, b)
		}
		if got > 0 {
			apart++
			if behind := difference.farthest(nearest.Scale(-1)).Dot(nearest) / got; behind < got-1e-6 {
				t.Fatalf("%g apart, but a corner is only %g away in that direction: %v %v", got, behind, a, b)
			}
		}
	}
	if apart < 1000 {
		t.Errorf("only %d pairs are apart", apart)
	}
}

// descended is the distance from the origin by changing one share of an edge after the other, each to where it is best.
func (s *Solid) descended() float64 {
	at := s.Centre
	shares := make([]float64, s.n)
	for range 2000 {
		most := 0.0
		for i, e := range s.edges[:s.n] {
			share := min(1, max(-1, shares[i]-at.Dot(e)/e.Dot(e)))
			change := share - shares[i]
			at, shares[i] = at.Add(e.Scale(change)), share
			most = max(most, math.Abs(change)*e.Norm())
		}
		if most < 1e-9 {
			break
		}
	}
	return at.Norm()
}
