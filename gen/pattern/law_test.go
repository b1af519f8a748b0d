package pattern_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
)

// trial is patterns of every file of this package, with a name for messages.
func trial(t *testing.T) map[string]pattern.Pattern {
	t.Helper()
	all := map[string]pattern.Pattern{
		"one slot":     pattern.Rows(pattern.Even(1, 1, 1), geom.Vec{X: 5, Y: 6, Z: 7}, geom.Vec{}, 0),
		"a row":        pattern.Rows(pattern.Even(1, 9, 1), geom.Vec{X: 5, Y: 6, Z: 7}, geom.Vec{X: -12}, 0),
		"a column":     pattern.Rows(pattern.Even(7, 1, 3), geom.Vec{Z: 7}, geom.Vec{Y: 11, Z: 20}, 4),
		"a tower":      pattern.Rows(pattern.Even(1, 1, 8), geom.Vec{X: 1}, geom.Vec{Z: 15}, 0),
		"rows":         pattern.Rows(pattern.Even(6, 8, 2), geom.Vec{X: 10, Y: -4, Z: 3}, geom.Vec{X: 20, Y: -15, Z: 30}, 0),
		"shifted rows": pattern.Rows(pattern.Even(5, 4, 2), geom.Vec{X: 10, Y: -4, Z: 3}, geom.Vec{X: 20, Y: 15, Z: 30}, -25),
		"two rows":     pattern.Rows(pattern.Even(2, 3, 1), geom.Vec{}, geom.Vec{X: 20, Y: 15}, 60),
		"single slots off": pattern.Corrected(pattern.Rows(pattern.Even(6, 8, 2), geom.Vec{X: 10, Y: -4, Z: 3}, geom.Vec{X: 20, Y: -15, Z: 30}, 9),
			map[int]geom.Vec{0: {X: 0.5, Y: -0.5, Z: 0.25}, 1: {Z: -2}, 7: {X: -1}, 21: {X: 3, Y: 3, Z: 3}, 95: {X: 1, Y: -1, Z: 1}}),
		"boxes": pattern.Stack(5, geom.Vec{X: 30, Y: -20, Z: 100}, 15,
			[]pattern.LayBox{{X: 10, Y: 5}, {X: 30, Y: 5}, {X: 45, Y: 10, Turned: 90}, {X: 10, Y: 15}, {X: 30, Y: 15}},
			[]pattern.LayBox{{X: 40, Y: 15}, {X: 20, Y: 15}, {X: 5, Y: 10, Turned: 90}, {X: 40, Y: 5}, {X: 20, Y: 5}}),
		"one box":        pattern.Stack(2, geom.Vec{Z: 3}, 15, []pattern.LayBox{{X: 10, Y: 5, Turned: 90}}, []pattern.LayBox{{X: 10, Y: 5, Turned: 90}}),
		"standard plate": pattern.Standard("ansi-slas-96", "bottom-right", 14, 2, 30),
		"one on a ring":  ringOf(geom.Vec{X: 1, Y: 2, Z: 3}, 1, false, pattern.Circle{Radius: 30, Places: 1, Start: 40, Turn: 360, Share: 1}),
		"a ring":         ringOf(geom.Vec{X: 1, Y: 2, Z: 3}, 1, true, pattern.Circle{Radius: 30, Places: 12, Start: 90, Turn: 360, Share: 12}),
		"rings": ringOf(geom.Vec{X: -200, Y: 40, Z: 3}, 3, true, pattern.Circle{Radius: 80, Places: 24, Start: -400, Turn: 360, Share: 24},
			pattern.Circle{Radius: 50, Places: 7, Start: 1000, Turn: -25, Share: 1}, pattern.Circle{Radius: 100, Places: 5, Start: 170, Turn: 9, Share: 1}),
		"places": pattern.Places(scattered, 1, 0),
		"places in layers, some off": pattern.Corrected(pattern.Places(scattered, 3, 40),
			map[int]geom.Vec{0: {X: -300}, 3: {Z: 9}, 7: {Y: 500, X: 1}, 12: {Z: -200}, 17: {X: -34}}),
		"rings with some off": pattern.Corrected(ringOf(geom.Vec{}, 2, true, pattern.Circle{Radius: 30, Places: 12, Start: 90, Turn: 360, Share: 12}, pattern.Circle{Radius: 60, Places: 30, Turn: -360, Share: 30}),
			map[int]geom.Vec{0: {X: -9}, 11: {X: 9}, 20: {Y: 100}, 60: {Z: -20}}),
	}
	for name, at := range map[string][]geom.Vec{ // A1, A4, C1 and C4
		"three corners":     {{X: 10, Y: 10, Z: 5}, {X: 100, Y: 14, Z: 8}, {X: 6, Y: 70, Z: 4}},
		"four corners":      {{X: 10, Y: 10, Z: 5}, {X: 100, Y: 14, Z: 8}, {X: 6, Y: 70, Z: 4}, {X: 103, Y: 76, Z: 5}},
		"corners backwards": {{X: 100, Y: 10, Z: 5}, {X: 10, Y: 30, Z: 8}, {X: 80, Y: -70, Z: 4}},
	} {
		var corners []fit.Corner
		for i, v := range at {
			corners = append(corners, fit.Corner{Row: i / 2 * 2, Col: i % 2 * 3, At: v})
		}
		surface, err := fit.Corners(corners)
		if err != nil {
			t.Fatal(name, err)
		}
		all[name] = pattern.Corners(pattern.Even(3, 4, 2), surface, 25)
	}
	return all
}

// ringOf is a ring with layers 25 mm apart.
func ringOf(centre geom.Vec, layers int, radial bool, circles ...pattern.Circle) pattern.Pattern {
	var rows []int
	for _, c := range circles {
		rows = append(rows, c.Places)
	}
	return pattern.Ring(pattern.Uneven(rows, layers), centre, circles, 25, radial)
}

// scattered is places with no order in them.
var scattered = [][]pattern.Place{
	{{At: geom.Vec{X: 10, Y: 20, Z: 5}}, {At: geom.Vec{X: 45, Y: 22, Z: 6}, Turned: 30}, {At: geom.Vec{X: -60, Y: -8, Z: 5}, Turned: -200}},
	{{At: geom.Vec{X: 80, Y: 20, Z: -5}, Turned: 90}},
	{{At: geom.Vec{X: 80, Y: 60, Z: 5}, Turned: 360}, {At: geom.Vec{X: 12, Y: 21, Z: 5}}, {At: geom.Vec{X: 44, Y: 90, Z: 25}}, {At: geom.Vec{X: 0, Y: -90, Z: 5}}},
}

// each goes through all slots of a pattern.
func each(p pattern.Pattern, do func(s slot.Slot, at geom.Vec)) {
	extent := p.Extent()
	for i := range extent.Size() {
		s := extent.Slot(i)
		at, _ := p.At(s)
		do(s, at)
	}
}

func within(at, lo, hi geom.Vec) bool {
	return lo.X <= at.X && at.X <= hi.X && lo.Y <= at.Y && at.Y <= hi.Y && lo.Z <= at.Z && at.Z <= hi.Z
}

const little = 1e-9 // mm: what rounding may do

var hair = geom.Vec{X: little, Y: little, Z: little}

func TestBoundsHoldEverySlot(t *testing.T) {
	for name, p := range trial(t) {
		each(p, func(s slot.Slot, at geom.Vec) {
			if lo, hi := p.Bounds(); !within(at, lo.Sub(hair), hi.Add(hair)) {
				t.Errorf("%s: %v is at %v, outside %v to %v", name, s, at, lo, hi)
			}
			if lo, hi := p.Level(int(s.Layer)); at.Z < lo-little || at.Z > hi+little {
				t.Errorf("%s: %v is at height %g, outside %g to %g", name, s, at.Z, lo, hi)
			}
		})
	}
}

// Nothing lies farther out than the outline, in whatever direction.
func TestOutlineHasTheFarthestSlots(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for name, p := range trial(t) {
		for range 50 {
			toward := geom.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}
			farthest := math.Inf(-1)
			for _, s := range p.Outline() {
				at, _ := p.At(s)
				farthest = max(farthest, toward.Dot(at))
			}
			each(p, func(s slot.Slot, at geom.Vec) {
				if toward.Dot(at) > farthest+1e-3 { // layers of a warped surface are nearly flat
					t.Errorf("%s: %v lies beyond the outline along %v", name, s, toward)
				}
			})
		}
	}
}

// What is asked of a box leaves no slot in it out, and is not much more in rows.
func TestBoxesLoseNoSlot(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for name, p := range trial(t) {
		extent := p.Extent()
		for range 300 {
			s := extent.Slot(random.IntN(extent.Size()))
			middle, _ := p.At(s)
			half := geom.Vec{X: random.ExpFloat64(), Y: random.ExpFloat64(), Z: random.ExpFloat64()}.Scale(10)
			middle = middle.Add(geom.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}.Scale(5))
			lo, hi := middle.Sub(half), middle.Add(half)
			asked := map[slot.Slot]bool{}
			for layer := range extent.Layers {
				for row, last := p.RowsIn(layer, lo, hi); row <= last; row++ {
					for col, last := p.ColumnsIn(row, layer, lo, hi); col <= last; col++ {
						asked[slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)}] = true
					}
				}
			}
			each(p, func(s slot.Slot, at geom.Vec) {
				if within(at, lo, hi) && !asked[s] {
					t.Errorf("%s: %v at %v is not asked for from %v to %v", name, s, at, lo, hi)
				}
				delete(asked, s)
			})
			if len(asked) > 0 {
				t.Errorf("%s: asked for slots that there are not: %v", name, asked)
			}
		}
	}
}

// Where a pattern says that it has a pitch, or is even between its corners, it has and is.
func TestFormGivesThePlaces(t *testing.T) {
	for name, p := range trial(t) {
		form, extent := p.Form(), p.Extent()
		first, _ := p.At(slot.Slot{})
		each(p, func(s slot.Slot, at geom.Vec) {
			stagger := geom.Vec{X: form.Stagger * float64(s.Row%2)}
			if form.Pitched {
				want := first.Add(geom.Vec{X: form.Column * float64(s.Col), Y: form.Row * float64(s.Row), Z: form.Layer * float64(s.Layer)}).Add(stagger)
				if at.Dist(want) > little {
					t.Errorf("%s: %v is at %v, its pitch leads to %v", name, s, at, want)
				}
			}
			if form.Even() && s.Layer == 0 {
				if want := between(p, &extent, form.Stagger, s).Add(stagger); at.Dist(want) > little {
					t.Errorf("%s: %v is at %v, its corners say %v", name, s, at, want)
				}
			}
		})
	}
}

// between is the place of a slot between the corners, all rows shifted back.
func between(p pattern.Pattern, extent *pattern.Extent, stagger float64, s slot.Slot) geom.Vec {
	share := func(i int32, n int) float64 { return float64(i) / float64(max(1, n-1)) }
	row, col := share(s.Row, extent.Rows), share(s.Col, extent.Columns)
	var sum geom.Vec
	for i, c := range p.Corners() {
		at, _ := p.At(c)
		at.X -= stagger * float64(c.Row%2)
		weight := [2]float64{1 - row, row}[i/2] * [2]float64{1 - col, col}[i%2]
		sum = sum.Add(at.Scale(weight))
	}
	return sum
}

func TestPitchIsToTheNearestNeighbour(t *testing.T) {
	for name, want := range map[string]float64{"one slot": 0, "a tower": 0, "one box": 0, "boxes": 10, "a row": 12, "a column": math.Hypot(11, 4), "rows": 15, "standard plate": 9} {
		if got := trial(t)[name].Pitch(); math.Abs(got-want) > little {
			t.Errorf("%s: %g, wanted %g", name, got, want)
		}
	}
	// Where rows are not straight, of all pairs in a layer.
	for name, p := range trial(t) {
		extent := p.Extent()
		if p.Form().Even() || extent.PerLayer() < 2 || name == "single slots off" {
			continue
		}
		want := math.Inf(1)
		each(p, func(a slot.Slot, at geom.Vec) {
			each(p, func(b slot.Slot, there geom.Vec) {
				if a != b && a.Layer == b.Layer {
					want = min(want, at.Dist(there))
				}
			})
		})
		if got := p.Pitch(); math.Abs(got-want) > little {
			t.Errorf("%s: %g, wanted %g", name, got, want)
		}
	}
}

// Parts lie as their slots are turned; along the rows of touched corners, and never
// upside down.
func TestPartsLieAsTheirSlots(t *testing.T) {
	for name, p := range trial(t) {
		lie := p.Lie(slot.Slot{})
		if !p.Form().Cornered {
			each(p, func(s slot.Slot, _ geom.Vec) {
				if _, turned := p.At(s); p.Lie(s) != geom.RotZ(turned) {
					t.Errorf("%s: parts do not lie as %v is turned", name, s)
				}
			})
			continue
		}
		corners := p.Corners()
		first, _ := p.At(corners[0])
		last, _ := p.At(corners[1])
		if along := last.Sub(first); lie.Column(0).AngleTo(along) > 1e-6 {
			t.Errorf("%s: parts lie %v° off their rows", name, lie.Column(0).AngleTo(along))
		}
		if lie.Column(2).Z <= 0 {
			t.Errorf("%s: parts lie upside down", name)
		}
	}
}
