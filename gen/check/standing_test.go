package check

import (
	"math/rand/v2"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/manual"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
)

const crowded = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {askew: {at: [300, 100, 50], rpy: [10, -20, 30]}}
parts: {p: {mass: 0.1, size: [20, 30, 40], grip: 10}}
grids:
  a: {frame: askew, rows: 7, columns: 9, layers: 3, pitch: [-35, 40], layer_pitch: 45, stagger: 12, first: [5, 6, 7], part: p, filled: all}
  b: {frame: base, rows: 1, columns: 70, pitch: [25, 0], first: [0, 0, 0], part: p, filled: all}
  c: {frame: base, rows: 70, columns: 1, pitch: [0, -32], stagger: 7, first: [0, 0, 0], part: p, filled: all}
  d:
    frame: askew
    rows: 5
    columns: 6
    layers: 2
    corners: {A1: [0, 0, 0], A6: [180, 90, 5], E1: [-80, 160, -3], E6: [101, 251, 4]}
    tolerance: 5
    layer_pitch: 45
    part: p
    filled: all
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers: [{from: a A1.3, to: a A1.3}]
`

// TestHitFindsWhatASearchThroughAllSlotsFinds: the short way to the slots that
// a body may meet leaves none out, in grids that lie in all kinds of ways.
func TestHitFindsWhatASearchThroughAllSlotsFinds(t *testing.T) {
	t.Parallel()
	l := layoutOf(t, crowded)
	r := rand.New(rand.NewPCG(1, 9))
	hits, sure := 0, 0
	turned := *l.Grids[0]
	turned.Pattern = turning{turned.Pattern}
	for _, g := range append(l.Grids, &turned) {
		s := newStanding(g, &effort{most: mostEffort})
		for k := range 3000 {
			if k%30 == 0 {
				thin(s, r)
			}
			b := bodyNear(s, r)
			_, _, found := s.hit(&b, -1)
			if want := searchAll(s, &b); found != want {
				t.Fatalf("grid %s, body %d: found is %t, wanted %t", g.Name, k, found, want)
			}
			box := b.Here.In(&geom.Pose{R: s.inGrid.R, T: s.inGrid.R.Apply(b.Here.Centre.Scale(-1))})
			bounds := box.Bounds()
			switch may := s.mayHit(&bounds, b.Here.Centre, b.Here.Centre.Add(b.Way), -1); {
			case found && !may:
				t.Fatalf("grid %s, body %d: the cheap look passes over a hit", g.Name, k)
			case found:
				hits++
			case !may:
				sure++
			}
		}
	}
	if hits < 500 || hits > 14500 {
		t.Errorf("%d of 15000 bodies hit something: the test proves little", hits)
	}
	if sure < (15000-hits)/2 {
		t.Errorf("of %d bodies that hit nothing the cheap look cleared %d: few", 15000-hits, sure)
	}
}

// turning is a pattern with every slot turned otherwise.
type turning struct{ pattern.Pattern }

func (p turning) At(s slot.Slot) (geom.Vec, float64) {
	at, _ := p.Pattern.At(s)
	return at, float64(s.Row)*40 + float64(s.Col)*25
}

func (p turning) Lie(s slot.Slot) geom.Rot {
	_, turned := p.At(s)
	return geom.RotZ(turned)
}

func (p turning) Outline() []slot.Slot {
	var all []slot.Slot
	extent := p.Extent()
	for i := range extent.Size() {
		all = append(all, extent.Slot(i))
	}
	return all
}

// thin fills a grid again, more or less densely.
func thin(s *Standing, r *rand.Rand) {
	dense := r.Float64()
	for i := range s.Grid.Size() {
		s.take(i)
		if r.Float64() < dense {
			s.put(i, s.part, 0)
		}
	}
}

// bodyNear is something that moves somewhere near a slot.
func bodyNear(s *Standing, r *rand.Rand) Body {
	near := s.Grid.Frame.Base.Apply(s.Grid.At(s.Grid.Slot(r.IntN(s.Grid.Size()))))
	away := func(k float64) geom.Vec {
		return geom.Vec{X: r.NormFloat64() * k, Y: r.NormFloat64() * k, Z: r.NormFloat64() * k}
	}
	turn := geom.RPY{Roll: r.Float64() * 360, Pitch: r.Float64() * 360, Yaw: r.Float64() * 360}
	b := Body{Here: solid.Block(geom.At(near.Add(away(60)), turn), geom.Vec{X: r.Float64() * 20, Y: r.Float64() * 20, Z: r.Float64() * 20}), Way: away(60)}
	b.Swept = b.Here.Swept(b.Way)
	b.Bounds = b.Swept.Bounds()
	return b
}

func searchAll(s *Standing, b *Body) bool {
	here := b.Swept.In(&s.inGrid)
	for i := range s.Grid.Size() {
		box := s.box(s.Grid.Slot(i))
		if s.Full.Has(i) && solid.DepthOver(&box, &here, 0) > touch {
			return true
		}
	}
	return false
}

func TestTopFollowsTheParts(t *testing.T) {
	l := layoutOf(t, manual.ExamplePlan)
	s := newStanding(l.Grids[2], &effort{most: mostEffort})
	for i, step := range []struct {
		put  bool
		slot slot.Slot
		top  int
	}{
		{true, slot.Slot{}, 0},
		{true, slot.Slot{Layer: 1}, 1},
		{true, slot.Slot{Layer: 1}, 1}, // twice the same changes nothing
		{false, slot.Slot{Layer: 1}, 0},
		{false, slot.Slot{Layer: 1}, 0},
		{false, slot.Slot{}, -1},
	} {
		if at := s.Grid.Index(step.slot); step.put {
			s.put(at, s.part, 0)
		} else {
			s.take(at)
		}
		if s.top != step.top {
			t.Errorf("after step %d the top layer is %d, wanted %d", i+1, s.top, step.top)
		}
	}
}
