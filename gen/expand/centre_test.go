package expand_test

import (
	"fmt"
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
			if says := m.Kind == move.Select || m.Kind.IsMotion(); says && m.Centre.Dist(want) > 1e-9 || !says && m.Centre != (geom.Vec{}) {
				t.Fatalf("%s: move %d, %s with %g kg: centre %v, wanted %v", tt.name, m.N, m.Kind, m.Load, fmt.Sprint(m.Centre), want)
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
			if says := m.Kind == move.Select || m.Kind.IsMotion(); says && m.Inertia.Dist(want) > 1e-12 || !says && m.Inertia != (geom.Vec{}) {
				t.Fatalf("%s: move %d, %s with %g kg: inertia %v, wanted %v", tt.name, m.N, m.Kind, m.Load, m.Inertia, want)
			}
		}
		if held == 0 {
			t.Errorf("%s: no move carries the part", tt.name)
		}
	}
}
