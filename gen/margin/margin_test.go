package margin_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/margin"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// benchPlan has an arm of invented dimensions with links, and boxes about it.
const benchPlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  arm:
    joints:
      - {name: J1, axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]}
      - {name: J2, axis: [0, 1, 0], point: [60, 0, 300], range: [-100, 130]}
      - {name: J3, axis: [0, 1, 0], point: [60, 0, 620], range: [-200, 70]}
      - {name: J4, axis: [1, 0, 0], point: [60, 0, 660], range: [-185, 185]}
      - {name: J5, axis: [0, 1, 0], point: [400, 0, 660], range: [-120, 120]}
      - {name: J6, axis: [1, 0, 0], point: [400, 0, 660], range: [-350, 350]}
    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
    links:
      J1: [{capsule: {from: [0, 0, 80], to: [0, 0, 280], radius: 60}}]
      J2: [{capsule: {from: [60, 0, 300], to: [60, 0, 620], radius: 50}}]
      J3: [{capsule: {from: [60, 0, 660], to: [330, 0, 660], radius: 40}}]
      J6: [{box: {from: [440, -30, 630], to: [480, 30, 690]}}]
  tools:
    jaw:
      tcp: {at: [0, 0, 100]}
      mass: 0.5
      body: {palm: {from: [-30, -20, -100], to: [30, 20, -40]}, left: {from: [-30, -10, -40], to: [-22, 10, 5], open: [-6, 0, 0]}}
      grip: {output: 1, level: on}
      release: {output: 1, level: off}
  frames: {aside: {at: [300, 100, 0], rpy: [0, 0, 30]}}
  poses: {clear: {at: [400, 0, 400]}}
  keep_out:
    foot: {from: [-90, -90, 0], to: [90, 90, 320]}
    post: {frame: aside, from: [0, 120, 0], to: [30, 150, 700]}
    wall: {from: [-200, -500, 0], to: [700, -460, 500]}
parts: {p: {mass: 0.1, size: [20, 20, 20]}}
grids:
  near: {frame: base, rows: 3, columns: 3, pitch: [50, 50], first: [350, -50, 60], part: p, filled: all}
  far: {frame: base, rows: 3, columns: 3, pitch: [50, 50], first: [350, -300, 60], part: p}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 40}, clear: clear}
transfers:
  - {from: "near A1:C2", to: "far A1:C2"}
`

func laidOut(t *testing.T, text string) *layout.Layout {
	t.Helper()
	var list diag.List
	var sources diag.Sources
	written := plan.Read(plan.Source{File: "bench.plan.yaml", Data: []byte(text)}, nil, &list, &sources)
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	l := layout.Resolve(written, layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	return l
}

// apart is how far a point is from a box of a frame, by the nearest point of that: none nearer than it in each direction.
func apart(b *layout.Box, p geom.Vec) float64 {
	in := b.Frame.Base.Inverse().Apply(p)
	lo, hi := b.From.Min(b.To), b.From.Max(b.To)
	return in.Dist(in.Max(lo).Min(hi))
}

// points are many of a core: of a line between two points, or of a box about an origin.
func points(s *layout.LinkShape) (all []geom.Vec) {
	const n = 24
	for i := range n + 1 {
		share := float64(i) / n
		if s.Radius > 0 {
			all = append(all, s.From.Add(s.To.Sub(s.From).Scale(share)))
			continue
		}
		all = append(all, inBox(s.At, s.Half.Scale(-1), s.Half, share)...)
	}
	return all
}

// inBox is the points of a box at one height of it.
func inBox(at geom.Pose, lo, hi geom.Vec, share float64) (all []geom.Vec) {
	const n = 24
	size := hi.Sub(lo)
	for j := range n + 1 {
		for k := range n + 1 {
			all = append(all, at.Apply(lo.Add(geom.Vec{X: share * size.X, Y: float64(j) / n * size.Y, Z: float64(k) / n * size.Z})))
		}
	}
	return all
}

// TestRoomIsThatOfManyPoints holds the room to the nearest of many points of the links and the tool: it can be no more than
// theirs, and no less but for what lies between them.
func TestRoomIsThatOfManyPoints(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: it looks at many points")
	}
	l := laidOut(t, benchPlan)
	meter, rng, looked := margin.NewMeter(l), rand.New(rand.NewPCG(19, 6)), 0
	for range 120 {
		var r arm.Readings
		for i, j := range l.Arm.Joints {
			r[i] = j.Lo + rng.Float64()*(j.Hi-j.Lo)
		}
		links := l.Arm.Links(r)
		tcp := l.Arm.Pose(r).Mul(l.Tools[0].TCP)
		least := math.Inf(1)
		for _, b := range l.Boxes {
			for behind, shapes := range l.Arm.Shapes[1:] {
				for i := range shapes {
					for _, p := range points(&shapes[i]) {
						if b.Name != "foot" || behind > 1 { // the first link stands in it
							least = min(least, apart(b, links[behind].Apply(p))-shapes[i].Radius)
						}
					}
				}
			}
			for _, part := range l.Tools[0].Body {
				for i := range 25 {
					for _, open := range []geom.Vec{{}, part.Open} {
						for _, p := range inBox(tcp, part.From.Add(open), part.To.Add(open), float64(i)/24) {
							least = min(least, apart(b, p))
						}
					}
				}
			}
		}
		got := meter.Of(&r, l.Tools[0])[margin.Room]
		switch {
		case least < 1: // something is in a box, which points do not measure
			if got.Kind != margin.Room || got.By > 1 {
				t.Errorf("%v: %+v, but points are in a box", r, got)
			}
		case least > margin.FarMM+6:
			if got.Kind != margin.None {
				t.Errorf("%v: %+v, but %.1f mm are left", r, got, least)
			}
		case least < margin.FarMM:
			looked++
			if got.Kind != margin.Room || got.By > least+1e-9 || got.By < least-6 { // half a step of the longest line, and of boxes
				t.Errorf("%v: %+v, wanted %.1f mm", r, got, least)
			}
		}
	}
	if looked < 12 {
		t.Errorf("only %d poses had a box near", looked)
	}
}

// A box is the arm's own foot where the first link is in it as the job begins, and not where the link comes to it later: it
// is turned from [60, 0] to [0, 60], where a pillar stands.
func TestFootIsWhereTheJobBegins(t *testing.T) {
	aside := strings.Replace(benchPlan, "{capsule: {from: [0, 0, 80], to: [0, 0, 280], radius: 60}}", "{box: {from: [40, -20, 80], to: [80, 20, 280]}}", 1)
	l := laidOut(t, strings.Replace(aside, "    wall:", "    pillar: {from: [-10, 70, 0], to: [10, 90, 240]}\n    wall:", 1))
	at, turned := arm.Readings{0, 0, 20, 0, 60, 0}, arm.Readings{90, 0, 20, 0, 60, 0}
	for begin, want := range map[*arm.Readings]string{&at: "the link behind J1 reaches 10 mm into the keep-out box \"pillar\"", &turned: ""} {
		meter := margin.NewMeter(l)
		meter.Begin(begin)
		room := meter.Of(&turned, l.Tools[0])[margin.Room]
		if got := room.Kind != margin.None && room.By < 0; got != (want != "") || got && meter.Words(room) != want {
			t.Errorf("begun with J1 at %g: %s, wanted %q", begin[0], meter.Words(room), want)
		}
	}
}

// Readings near to one thing, by the figures of the plan, and the words for it.
func TestMarginsInWords(t *testing.T) {
	l := laidOut(t, benchPlan)
	meter := margin.NewMeter(l)
	for _, c := range []struct {
		r     arm.Readings
		kind  margin.Kind
		words string
		to    string
		band  int
	}{
		{arm.Readings{90, 0, 58, 0, 60, 0}, margin.Range, "J3 comes within 12° of an end of its range", "J3", 1},
		{arm.Readings{90, 0, 20, 0, -117, 0}, margin.Range, "J5 comes within 3° of an end of its range", "J5", 0},
		{arm.Readings{90, 0, 20, 0, 7.9, 0}, margin.Singular, "J5 comes within 7° of a singular place (wrist)", "J5 sing.", 1},
	} {
		all := meter.Of(&c.r, l.Tools[0])
		least := meter.Least(&all)
		if least.Kind != c.kind || meter.Words(least) != c.words || meter.To(least) != c.to || meter.Band(least) != c.band {
			t.Errorf("%v: %+v, %q, %q, band %d; wanted %q, %q, band %d", c.r, all, meter.Words(least), meter.To(least), meter.Band(least), c.words, c.to, c.band)
		}
	}
	for i := range margin.Bands {
		if words := margin.BandWords(i); !strings.Contains(words, "°") || !strings.Contains(words, "mm") {
			t.Errorf("band %d is %q", i, words)
		}
	}
}

// TestSlotsTakeTheLeast goes through the list by itself: what is left at a slot is the least of the motions that end there
// and above it, and nothing is said of a slot at which no part is moved.
func TestSlotsTakeTheLeast(t *testing.T) {
	l := laidOut(t, benchPlan)
	meter, slots := margin.NewMeter(l), margin.NewSlots(l)
	moves := expand.Batches(l, expand.Whole)
	least := map[string]float64{}
	for m := range move.Single(joints.Choose(l, moves).Fill(moves)) {
		slots.See(&m)
		if !m.Kind.IsMotion() || m.Target.Grid == "" {
			continue
		}
		all := meter.Of(m.Joints, l.Tools[m.ToolNumber-1])
		at := m.Target.Below().String()
		worth := meter.Least(&all).By
		if k := meter.Least(&all).Kind; k == margin.Room {
			worth /= 2
		}
		if was, ok := least[at]; !ok || worth < was {
			least[at] = worth
		}
	}
	worked := 0
	for _, g := range l.Grids {
		for i, m := range slots.In(g) {
			want, works := least[g.Name+" "+g.Label(g.Slot(i))]
			got := m.By
			if m.Kind == margin.Room {
				got /= 2
			}
			if works != (m.Kind != margin.None) || works && got != want {
				t.Errorf("%s %s: %+v, wanted %g (%v)", g.Name, g.Label(g.Slot(i)), m, want, works)
			}
		}
		for k, thing := range slots.Things(g) {
			worked += thing.Slots
			if thing.Margin != slots.In(g)[thing.Slot] || k > 0 && slots.Less(thing.Margin, slots.Things(g)[k-1].Margin) {
				t.Errorf("%s: %v is not in order", g.Name, slots.Things(g))
			}
			for _, m := range slots.In(g) {
				if m.Kind == thing.Kind && m.Joint == thing.Joint && m.Limb == thing.Limb && m.Box == thing.Box && slots.Less(m, thing.Margin) {
					t.Errorf("%s: %+v leaves less than %+v", g.Name, m, thing)
				}
			}
		}
	}
	if worked != 12 || len(least) != 12 {
		t.Errorf("%d slots, and %d in the list, wanted 12", worked, len(least))
	}
}

func BenchmarkMargins(b *testing.B) {
	var list diag.List
	var sources diag.Sources
	l := layout.Resolve(plan.Read(plan.Source{File: "bench.plan.yaml", Data: []byte(benchPlan)}, nil, &list, &sources), layout.Options{}, &list)
	meter, r := margin.NewMeter(l), arm.Readings{20, 30, 20, 0, 40, 0}
	for b.Loop() {
		meter.Of(&r, l.Tools[0])
	}
}
