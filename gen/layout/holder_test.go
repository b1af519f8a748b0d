package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// laid resolves a plan with the frames and the one grid g that are given.
func laid(t testing.TB, frames, grid string) (*layout.Layout, *layout.Grid) {
	t.Helper()
	text := `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames:
    f: {at: [300, 0, 0]}
` + frames + `
parts: {p: {mass: 0.1}}
grids:
  g: ` + grid + `
motion: {tool: jaw, approach: 50, speed: {travel: 100, near: 50}}
transfers: []
`
	l, list := resolve(text)
	for _, f := range list.Sorted() {
		if f.Severity == diag.Error && f.Rule != "nothing-to-move" {
			t.Fatalf("%s: %s [%s]", f.Place, f.Message, f.Rule)
		}
	}
	return l, l.Grids[0]
}

func at(t *testing.T, g *layout.Grid, label string) geom.Vec {
	t.Helper()
	s, ok := slot.Parse(label)
	if !ok || !g.Has(s.Slot) {
		t.Fatalf("the grid has no slot %s", label)
	}
	return g.At(s.Slot)
}

func near(t *testing.T, what string, got, want geom.Vec, within float64) {
	t.Helper()
	if d := got.Dist(want); !(d <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// ANSI/SLAS 4-2004 gives the middle of A1 and the pitch, ANSI/SLAS 1-2004 the
// footprint, 127.76 × 85.48 mm; all read in a secondary source. The figures are from
// the plate's left and top edge, Y downwards; ours has Y upwards.
func TestStandardPlates(t *testing.T) {
	for _, p := range []struct {
		wells         int
		left, top     float64
		last          string
		right, bottom float64 // of the last well, from the left and top edge: recomputed
	}{
		{96, 14.38, 11.24, "H12", 113.38, 74.24},
		{384, 12.13, 8.99, "P24", 115.63, 76.49},
		{1536, 11.005, 7.865, "AF48", 116.755, 77.615},
	} {
		for corner, origin := range map[string]geom.Vec{ // from the left and top edge, Y upwards
			"top-left": {}, "top-right": {X: 127.76}, "bottom-left": {Y: -85.48}, "bottom-right": {X: 127.76, Y: -85.48},
		} {
			_, g := laid(t, "", fmt.Sprintf("{frame: f, standard: ansi-slas-%d, height: 14.35, corner: %s}", p.wells, corner))
			near(t, corner+" A1", at(t, g, "A1"), geom.Vec{X: p.left, Y: -p.top, Z: 14.35}.Sub(origin), 1e-9)
			near(t, corner+" "+p.last, at(t, g, p.last), geom.Vec{X: p.right, Y: -p.bottom, Z: 14.35}.Sub(origin), 1e-9)
			if g.Size() != p.wells {
				t.Errorf("%d wells: got %d", p.wells, g.Size())
			}
		}
	}
}

// The two ways of drawing Y: from the top left corner A1 lies at -11.24, from the
// bottom left one at 74.24.
func TestBothWaysOfDrawingY(t *testing.T) {
	_, top := laid(t, "", "{frame: f, standard: ansi-slas-96, height: 0}") // the default
	_, bottom := laid(t, "", "{frame: f, standard: ansi-slas-96, height: 0, corner: bottom-left}")
	near(t, "top left", at(t, top, "A1"), geom.Vec{X: 14.38, Y: -11.24}, 1e-9)
	near(t, "bottom left", at(t, bottom, "A1"), geom.Vec{X: 14.38, Y: 74.24}, 1e-9)
	near(t, "H12 as far from the other edges", at(t, bottom, "H12"), geom.Vec{X: 127.76 - 14.38, Y: 11.24}, 1e-9)
}

// Each well of 96 is the middle of four of 384, each of those of four of 1536.
func TestPlatesNest(t *testing.T) {
	grids := map[int]*layout.Grid{}
	for _, n := range []int{96, 384, 1536} {
		_, grids[n] = laid(t, "", fmt.Sprintf("{frame: f, standard: ansi-slas-%d, height: 5}", n))
	}
	for coarse, fine := range map[int]int{96: 384, 384: 1536} {
		g, h := grids[coarse], grids[fine]
		for i := range g.Size() {
			s := g.Slot(i)
			var sum geom.Vec
			for k := range 4 {
				sum = sum.Add(h.At(slot.Slot{Row: 2*s.Row + int32(k/2), Col: 2*s.Col + int32(k%2)}))
			}
			near(t, g.Label(s), sum.Scale(0.25), g.At(s), 1e-9)
		}
	}
}

// Four corners read in the base come out in the frame, wherever that is.
func TestCornersInBase(t *testing.T) {
	const turned = "    turned: {at: [250, -80, 30], rpy: [3, -2, 40]}"
	l, g := laid(t, turned, `{frame: turned, rows: 3, columns: 5, corners_in: base,
     corners: {A1: [300, 0, 50], A5: [400, 4, 52], C1: [298, 60, 50], C5: [399, 65, 53]}}`)
	base := l.Frames[len(l.Frames)-1].Base
	near(t, "A1", base.Apply(at(t, g, "A1")), geom.Vec{X: 300, Y: 0, Z: 50}, 1e-9)
	near(t, "C5", base.Apply(at(t, g, "C5")), geom.Vec{X: 399, Y: 65, Z: 53}, 1e-9)
	near(t, "the middle", base.Apply(at(t, g, "B3")), geom.Vec{X: 349.25, Y: 32.25, Z: 51.25}, 1e-9)
}

// Layers of a tray that leans step square to it, on the side of the frame's +Z, also
// where the rows run backwards; the tool stays as "rpy" says in the frame.
func TestLayersFollowTheMeasuredNormal(t *testing.T) {
	for _, row := range []string{"0, 60, 20", "0, -60, 20"} {
		_, g := laid(t, "", "{frame: f, rows: 2, columns: 2, layers: 3, layer_pitch: 10, rpy: [180, 0, 30], corners: {A1: [0, 0, 20], A2: [80, 0, 80], B1: ["+row+"]}}")
		near(t, "A1.3", at(t, g, "A1.3"), geom.Vec{X: -12, Z: 36}, 1e-9) // the slope is 3 : 4
		near(t, "B2.2", at(t, g, "B2.2").Sub(at(t, g, "B2.1")), geom.Vec{X: -6, Z: 8}, 1e-9)
		in, _ := g.Points(slot.Slot{})
		near(t, "A1.1", in.Vec, geom.Vec{Z: 20}, 1e-9)
		want := geom.RPY{Roll: 180, Yaw: 30}
		if math.Abs(in.Roll-want.Roll) > 1e-9 || math.Abs(in.Pitch) > 1e-9 || math.Abs(in.Yaw-want.Yaw) > 1e-9 {
			t.Errorf("the tool: got %v, want %v", in.RPY, want)
		}
	}
}

func TestSlotsNeedNoMemory(t *testing.T) {
	_, plain := laid(t, "", "{frame: f, rows: 8, columns: 12, pitch: [9, 9], first: [0, 0, 0]}")
	_, touched := laid(t, "", "{frame: f, rows: 8, columns: 12, layers: 2, layer_pitch: 5, corners: {A1: [0, 0, 0], A12: [99, 0, 0], H1: [0, 63, 0], H12: [99, 63, 1]}}")
	for _, g := range []*layout.Grid{plain, touched} {
		s := g.Slot(g.Size() - 1)
		if n := testing.AllocsPerRun(100, func() { g.Points(s) }); n != 0 {
			t.Errorf("%v allocations a slot, want none", n)
		}
	}
}

// The figures stay on the layout, with the slot that suffers most. 0.1 mm over 50 mm
// is 0.1146°, and over the 500 mm from the origin to B2 it is 1 mm.
func TestFiguresOnTheLayout(t *testing.T) {
	const short = "    short: {three_points: {origin: [0, 0, 0], along_x: [50, 0, 0], toward_y: [0, 900, 0]}}"
	l, _ := laid(t, short, "{frame: short, rows: 2, columns: 2, pitch: [300, 400], first: [0, 0, 0]}")
	f := l.Frames[len(l.Frames)-1].Fit
	if f == nil || f.Far == nil {
		t.Fatalf("got %+v, want figures with a far slot", f)
	}
	if f.Far.Slot != "B2" || f.Far.Baseline != "along_x" || math.Abs(f.Far.Off-1) > 1e-9 || math.Abs(f.Far.Degrees-0.1146) > 1e-4 || math.Abs(f.Far.Need-100) > 1e-9 {
		t.Errorf("got %+v", *f.Far)
	}
	verdicts := f.Judge()
	if len(verdicts) != 1 || verdicts[0].Rule != "angle-uncertain" || !strings.Contains(verdicts[0].Hint, `touch "along_x" 100 mm or more from the origin`) {
		t.Errorf("got %+v", verdicts)
	}
}

// A grid in a frame that rests on a touched frame counts for that one, too; one that
// was touched in the base does not.
func TestReachThroughNestedFrames(t *testing.T) {
	const frames = `    short: {three_points: {origin: [0, 0, 0], along_x: [50, 0, 0], toward_y: [0, 900, 0]}}
    upon: {parent: short, at: [300, 400, 0]}`
	l, _ := laid(t, frames, "{frame: upon, rows: 1, columns: 1, first: [0, 0, 0]}")
	if far := l.Frames[2].Fit.Far; far == nil || math.Abs(far.Off-1) > 1e-9 {
		t.Errorf("nested: got %+v, want 1 mm", far)
	}
	l, _ = laid(t, frames, "{frame: upon, rows: 2, columns: 2, corners_in: base, corners: {A1: [300, 400, 0], A2: [400, 400, 0], B1: [300, 500, 0]}}")
	if far := l.Frames[2].Fit.Far; far != nil {
		t.Errorf("touched in the base: got %+v, want none", far)
	}
}

// BenchmarkPoints holds a grid of touched corners against a plain one.
func BenchmarkPoints(b *testing.B) {
	for name, grid := range map[string]string{
		"plain":   "{frame: f, rows: 8, columns: 12, pitch: [9, 9], first: [0, 0, 0]}",
		"touched": "{frame: f, rows: 8, columns: 12, corners: {A1: [0, 0, 0], A12: [99, 0, 0], H1: [0, 63, 0], H12: [99, 63, 1]}}",
		"layers":  "{frame: f, rows: 8, columns: 12, layers: 2, layer_pitch: 5, corners: {A1: [0, 0, 0], A12: [99, 0, 0], H1: [0, 63, 0], H12: [99, 63, 1]}}",
	} {
		b.Run(name, func(b *testing.B) {
			_, g := laid(b, "", grid)
			s := g.Slot(g.Size() - 1)
			for b.Loop() {
				g.Points(s)
			}
		})
	}
}
