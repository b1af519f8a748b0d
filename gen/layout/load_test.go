package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/geom"
)

// nearInertia holds moments of inertia to a thousand-millionth of their size.
func nearInertia(t *testing.T, what string, got, want geom.Vec) {
	t.Helper()
	if got.Dist(want) > 1e-9*max(want.Norm(), 1e-9) {
		t.Errorf("%s: %v kg·m², wanted %v", what, got, want)
	}
}

// TestInertiaOfTwoMasses: two point masses of 3 kg and 1 kg that are 0.4 m apart have 3·1/(3+1)
// · 0.4² = 0.12 kg·m² about any axis through their centre that is square to the line between
// them, and nothing about that line (the reduced mass; every textbook of mechanics, from
// memory). A tool and a part of next to no size are such masses.
func TestInertiaOfTwoMasses(t *testing.T) {
	const hair = 1e-9
	tool := &Tool{Mass: 3, CentreOfGravity: geom.Vec{X: 20, Z: 50}, Inertia: geom.Vec{X: hair, Y: hair, Z: hair}, TCP: geom.At(geom.Vec{Z: 100}, geom.RPY{Yaw: 30})}
	part := &Part{Mass: 1, Size: geom.Vec{X: 0.001, Y: 0.001, Z: 0.001}}
	held := tool.TCP.Inverse().Mul(geom.At(geom.Vec{X: 20, Z: 450}, geom.RPY{Roll: 50, Yaw: 12}))
	got := tool.InertiaWith(Hung{Part: part, By: tool, At: held})
	if want := (geom.Vec{X: 0.12, Y: 0.12}); got.Dist(want) > 1e-8 {
		t.Errorf("%v kg·m², wanted %v", got, want)
	}
}

// TestInertiaOfTwoHalves: a solid box has m/12 · (b² + c²) about the axis through its middle
// along its edge a (every textbook, from memory), and cut in two it is still the same box: one
// half as the tool, the other as the part.
func TestInertiaOfTwoHalves(t *testing.T) {
	box := func(mass, a, b, c float64) geom.Vec {
		return geom.Vec{X: mass / 12 * (b*b + c*c) / 1e6, Y: mass / 12 * (a*a + c*c) / 1e6, Z: mass / 12 * (a*a + b*b) / 1e6}
	}
	tool := &Tool{Mass: 2, CentreOfGravity: geom.Vec{X: 10, Y: -5, Z: 40}, Inertia: box(2, 60, 30, 80), TCP: geom.At(geom.Vec{Z: 80}, geom.RPY{})}
	// Below the tool, upright or lying on its side: then its own axes are other ones.
	for _, tt := range []struct {
		size geom.Vec
		turn geom.RPY
	}{{geom.Vec{X: 60, Y: 30, Z: 80}, geom.RPY{}}, {geom.Vec{X: 80, Y: 30, Z: 60}, geom.RPY{Pitch: 90}}, {geom.Vec{X: 60, Y: 80, Z: 30}, geom.RPY{Roll: -90}}} {
		part := &Part{Mass: 2, Size: tt.size}
		held := tool.TCP.Inverse().Mul(geom.At(geom.Vec{X: 10, Y: -5, Z: 120}, tt.turn))
		nearInertia(t, "two halves", tool.InertiaWith(Hung{Part: part, By: tool, At: held}), box(4, 60, 30, 160))
	}
}

// TestInertiaOfPointMasses: eight point masses at ±1/√3 of a box's half edges have its mass, its
// centre and its moments of inertia (the two points of Gauss and Legendre integrate squares
// exactly). Summed up about the common centre they say what tool and parts together have, however
// the parts are turned and wherever they hang.
func TestInertiaOfPointMasses(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	figure := func(most float64) float64 { return most * (2*r.Float64() - 1) }
	vec := func(most float64) geom.Vec { return geom.Vec{X: figure(most), Y: figure(most), Z: figure(most)} }
	pose := func(most float64) geom.Pose {
		return geom.At(vec(most), geom.RPY{Roll: figure(180), Pitch: figure(90), Yaw: figure(180)})
	}
	type mass struct {
		kg float64
		at geom.Vec
	}
	box := func(kg float64, size geom.Vec, at geom.Pose) (all []mass) {
		for i := range 8 {
			sign := func(bit int) float64 { return float64(i>>bit&1)*2 - 1 }
			corner := geom.Vec{X: sign(0) * size.X, Y: sign(1) * size.Y, Z: sign(2) * size.Z}.Scale(0.5 / math.Sqrt(3))
			all = append(all, mass{kg / 8, at.Apply(corner)})
		}
		return all
	}
	sum := func(all []mass) (centre, inertia geom.Vec) {
		total := 0.0
		for _, m := range all {
			total, centre = total+m.kg, centre.Add(m.at.Scale(m.kg))
		}
		centre = centre.Scale(1 / total)
		for _, m := range all {
			d := m.at.Sub(centre)
			inertia = inertia.Add(geom.Vec{X: d.Y*d.Y + d.Z*d.Z, Y: d.X*d.X + d.Z*d.Z, Z: d.X*d.X + d.Y*d.Y}.Scale(m.kg / 1e6))
		}
		return centre, inertia
	}
	for range 200 {
		size := func() geom.Vec {
			return geom.Vec{X: 10 + 100*r.Float64(), Y: 10 + 100*r.Float64(), Z: 10 + 100*r.Float64()}
		}
		of := box(0.1+r.Float64(), size(), pose(80))
		tool := &Tool{Mass: 8 * of[0].kg, TCP: pose(150)}
		tool.CentreOfGravity, tool.Inertia = sum(of)
		var parts []Hung
		for range 1 + r.IntN(4) { // each in a zone of its own
			h := Hung{&Part{Mass: 0.1 + r.Float64(), Size: size()}, &Tool{TCP: tool.TCP.Mul(pose(70))}, pose(60)}
			parts, of = append(parts, h), append(of, box(h.Part.Mass, h.Part.Size, h.By.TCP.Mul(h.At))...)
		}
		centre, want := sum(of)
		if got := tool.CentreWith(parts...); got.Dist(centre) > 1e-9 {
			t.Fatalf("centre of gravity %v, wanted %v", got, centre)
		}
		nearInertia(t, "tool and parts", tool.InertiaWith(parts...), want)
	}
}

// TestInertiaUnknown: without the tool's own nothing is known, nor with a part of unknown size;
// the tool alone has its own.
func TestInertiaUnknown(t *testing.T) {
	own := geom.Vec{X: 0.002, Y: 0.003, Z: 0.001}
	known := &Tool{Mass: 1, CentreOfGravity: geom.Vec{Z: 40}, Inertia: own}
	sized, unsized := &Part{Mass: 1, Size: geom.Vec{X: 10, Y: 10, Z: 10}}, &Part{Mass: 1}
	held := geom.Pose{R: geom.IdentityRot()}
	for _, tt := range []struct {
		tool *Tool
		part *Part
		want geom.Vec
	}{{known, nil, own}, {known, unsized, geom.Vec{}}, {&Tool{Mass: 1}, sized, geom.Vec{}}} {
		var parts []Hung
		if tt.part != nil {
			parts = []Hung{{tt.part, tt.tool, held}}
		}
		if got := tt.tool.InertiaWith(parts...); got != tt.want {
			t.Errorf("%v kg·m², wanted %v", got, tt.want)
		}
	}
}
