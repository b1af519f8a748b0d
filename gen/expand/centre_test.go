package expand_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// TestCentreOfTheLoad: the centre of gravity of tool and part together is the mean of both,
// weighed with their masses (every textbook of mechanics). The tool has 0.5 kg at 60 mm;
// the part has 0.2 kg, its middle 5 mm beyond the TCP, which is at 100 mm: held by a grip
// 5 mm above its own middle, it hangs so far out of the tool. Told of in the flange's own
// coordinates, it is the same however the tool is turned at the slots.
func TestCentreOfTheLoad(t *testing.T) {
	const cog, part = "centre_of_gravity: [0, 0, 60], grip", "mass: 0.2, size: [20, 20, 20], grip: 15"
	want := geom.Vec{Z: (0.5*60 + 0.2*105) / 0.7}
	tests := []struct {
		name, tool, part, slots string
		want                    geom.Vec
	}{
		{"held above its middle", cog, part, "", want},
		{"held in its middle", cog, "mass: 0.2, size: [20, 20, 20]", "", geom.Vec{Z: (0.5*60 + 0.2*100) / 0.7}},
		{"of unknown size", cog, "mass: 0.2", "", geom.Vec{Z: (0.5*60 + 0.2*100) / 0.7}},
		{"the tool turned", cog, part, ", rpy: [180, 0, 37]", want},
		{"the tool lies", cog, part, ", rpy: [90, 0, 0]", geom.Vec{Y: -0.2 * 5 / 0.7, Z: (0.5*60 + 0.2*100) / 0.7}}, // its -Y points down
		{"the tool's own is not known", "grip", part, "", geom.Vec{}},
	}
	for _, tt := range tests {
		text := strings.NewReplacer("mass: 0.5, grip", "mass: 0.5, "+tt.tool, "mass: 0.2, size: [20, 20, 20]", tt.part, "filled: all", "filled: all"+tt.slots).Replace(startPlan)
		l := laidOut(t, text)
		alone := l.Tools[0].CentreOfGravity
		for m := range expand.Moves(l) {
			want := tt.want
			if m.Load == 0.5 {
				want = alone
			}
			if says := m.Kind == move.Select || m.Kind.IsMotion(); says && m.Centre().Dist(want) > 1e-9 || !says && m.Centre() != (geom.Vec{}) {
				t.Fatalf("%s: move %d, %s with %g kg: centre %v, wanted %v", tt.name, m.N, m.Kind, m.Load, fmt.Sprint(m.Centre()), want)
			}
		}
	}
}

// TestInertiaOfTheLoad: the tool alone has what the cell says. With the part, a cube of 20 mm
// and 0.2 kg whose middle hangs 40 mm beyond the tool's centre of gravity (the TCP is at 100 mm),
// the moments about X and Y grow by its own, m/6 · a², and by those of the two masses about their
// common centre, 0.5 · 0.2 / 0.7 · 40²; that about Z by its own alone. However the tool is turned at the
// slots, the flange's axes see the same.
func TestInertiaOfTheLoad(t *testing.T) {
	const own, between = 0.2 / 6 * 400e-6, 0.5 * 0.2 / 0.7 * 1600e-6
	tests := []struct {
		name, tool, part, slots string
		alone, with             geom.Vec
	}{
		{"known", ", inertia: [0.002, 0.003, 0.001]", ", size: [20, 20, 20]", "", geom.Vec{X: 0.002, Y: 0.003, Z: 0.001}, geom.Vec{X: 0.002 + own + between, Y: 0.003 + own + between, Z: 0.001 + own}},
		{"the tool turned", ", inertia: [0.002, 0.003, 0.001]", ", size: [20, 20, 20]", ", rpy: [180, 0, 37]", geom.Vec{X: 0.002, Y: 0.003, Z: 0.001}, geom.Vec{X: 0.002 + own + between, Y: 0.003 + own + between, Z: 0.001 + own}},
		{"the part's size is not known", ", inertia: [0.002, 0.003, 0.001]", "", "", geom.Vec{X: 0.002, Y: 0.003, Z: 0.001}, geom.Vec{}},
		{"the tool's own is not known", "", ", size: [20, 20, 20]", "", geom.Vec{}, geom.Vec{}},
	}
	for _, tt := range tests {
		text := strings.NewReplacer("mass: 0.5, grip", "mass: 0.5, centre_of_gravity: [0, 0, 60]"+tt.tool+", grip", ", size: [20, 20, 20]", tt.part, "filled: all", "filled: all"+tt.slots).Replace(startPlan)
		held := 0
		for m := range expand.Moves(laidOut(t, text)) {
			want := tt.with
			if m.Load == 0.5 {
				want = tt.alone
			} else if m.Load == 0.7 {
				held++
			}
			if says := m.Kind == move.Select || m.Kind.IsMotion(); says && m.Inertia().Dist(want) > 1e-12 || !says && m.Inertia() != (geom.Vec{}) {
				t.Fatalf("%s: move %d, %s with %g kg: inertia %v, wanted %v", tt.name, m.N, m.Kind, m.Load, m.Inertia(), want)
			}
		}
		if held == 0 {
			t.Errorf("%s: no move carries the part", tt.name)
		}
	}
}

// TestLoadOfATurnedPart: a box of 40 × 20 × 30 mm is taken from a tray and put into a rack, where the tool is
// turned about a random axis, so that it lies turned there. Another tool takes it up again at the same turn: it
// hangs in its TCP as it hung in the first one's, square to it, whatever way it lies in the rack.
//
// A TCP that is turned by φ about the flange's Z turns the box by φ: I_x = A·cos²φ + B·sin²φ and I_y = A·sin²φ + B·cos²φ with A, B and
// C the moments of the box about its own edges, m/12 · (b² + c²) and so on. By the theorem of parallel axes two bodies
// have together the sum of both and, about each axis, M·m/(M+m) times the square of the distance between
// their centres across that axis (every textbook of mechanics, from memory).
func TestLoadOfATurnedPart(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 30))
	for range 60 {
		figure := func(most float64) float64 { return math.Round(most * (2*r.Float64() - 1)) }
		type tool struct{ mass, tcpX, tcpZ, turned, cogX, cogZ float64 }
		tools := [2]tool{{0.5, figure(30), 120, figure(180), figure(20), 50}, {0.8, figure(30), 90, figure(180), figure(20), 35}}
		written := func(o tool) string {
			return fmt.Sprintf("{tcp: {at: [%g, 0, %g], rpy: [0, 0, %g]}, mass: %g, centre_of_gravity: [%g, 0, %g], inertia: [0.002, 0.003, 0.001], grip: {output: 1, level: on}, release: {output: 1, level: off}}",
				o.tcpX, o.tcpZ, o.turned, o.mass, o.cogX, o.cogZ)
		}
		with := func(o tool) geom.Vec {
			const m = 0.2
			sin, cos := math.Sincos(o.turned * math.Pi / 180)
			a, b, c := m/12*(20*20+30*30), m/12*(40*40+30*30), m/12*(40*40+20*20)
			between, x, z := o.mass*m/(o.mass+m), o.tcpX-o.cogX, o.tcpZ-o.cogZ
			sum := geom.Vec{X: a*cos*cos + b*sin*sin + between*z*z, Y: a*sin*sin + b*cos*cos + between*(x*x+z*z), Z: c + between*x*x}
			return sum.Scale(1e-6).Add(geom.Vec{X: 0.002, Y: 0.003, Z: 0.001})
		}
		text := strings.NewReplacer(
			"{jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}", "{jaw: "+written(tools[0])+", fork: "+written(tools[1])+"}",
			"size: [20, 20, 20]", "size: [40, 20, 30]",
			"first: [200, 200, 20]}", fmt.Sprintf("first: [200, 200, 20], rpy: [%g, %g, %g]}\n  end: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [200, 400, 20]}", 180+figure(30), figure(30), figure(180)),
			"approach: 50", "approach: 50, clear: clear",
			"to: rack}", "to: rack}, {from: rack, to: end, motion: {tool: fork}}",
		).Replace(startPlan)
		held := [2]int{}
		for m := range expand.Moves(laidOut(t, text)) {
			for i, o := range tools {
				if math.Abs(m.Load-o.mass-0.2) > 1e-9 {
					continue
				}
				held[i]++
				centre := geom.Vec{X: o.mass*o.cogX + 0.2*o.tcpX, Z: o.mass*o.cogZ + 0.2*o.tcpZ}.Scale(1 / (o.mass + 0.2))
				if want := with(o); m.Inertia().Dist(want) > 1e-12 || m.Centre().Dist(centre) > 1e-9 {
					t.Fatalf("move %d, %s with %s: inertia %v, wanted %v; centre %v, wanted %v\n%s", m.N, m.Kind, m.Tool, m.Inertia(), want, m.Centre(), centre, text)
				}
			}
		}
		if held[0] == 0 || held[1] == 0 {
			t.Fatalf("moves that carry the part, by tool: %v\n%s", held, text)
		}
	}
}
