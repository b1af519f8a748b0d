package pattern

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// randomLayer is boxes thrown onto a floor, those that hit no other; or a layer laid.
func randomLayer(r *rand.Rand) (Floor, []LayBox) {
	f := randomFloor(r)
	if r.IntN(2) == 0 {
		return f, f.Best(plenty())
	}
	var layer []LayBox
	for range 200 {
		b := LayBox{float64(r.IntN(1200)), float64(r.IntN(1200)), float64(90 * r.IntN(2))}
		if layer = append(layer, b); len(layer) > 1 {
			if _, _, hit := f.tooClose(layer, 1e-6); hit {
				layer = layer[:len(layer)-1]
			}
		}
	}
	return f, layer
}

// TestSequenceAgainstSweeps puts boxes down one by one, from far away along a direction
// of which the tool may come: a box that is there already is never met on the way.
func TestSequenceAgainstSweeps(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every order is tried")
	}
	r := rand.New(rand.NewPCG(16, 4))
	sides := [][2]float64{{-1, 0}, {1, 0}, {0, -1}, {0, 1}, {-1, -1}, {1, -1}, {-1, 1}, {1, 1}}
	held, wrong := 0, 0
	for range 100 {
		f, layer := randomLayer(r)
		for _, from := range sides {
			order := f.Sequence(layer, from, plenty())
			if sorted := slices.Sorted(slices.Values(order)); len(sorted) != len(layer) || len(sorted) > 0 && (sorted[0] != 0 || sorted[len(sorted)-1] != len(sorted)-1 || len(slices.Compact(sorted)) != len(layer)) {
				t.Fatalf("%v is no order of %d boxes", order, len(layer))
			}
			way := [2]float64{from[0], from[1]}
			if from[0] != 0 && from[1] != 0 { // any way between the two sides
				way[0], way[1] = way[0]*r.Float64(), way[1]*r.Float64()
			}
			for at, i := range order {
				for _, k := range order[:at] {
					held++
					if f.meets(layer[i], layer[k], way) {
						t.Errorf("%+v from %v: %v comes over %v along %v", f, from, layer[i], layer[k], way)
					}
				}
				for _, k := range order[at+1:] {
					if f.meets(layer[i], layer[k], way) {
						wrong++ // they are in the way only later
					}
				}
			}
		}
	}
	if held < 100_000 || wrong < 10_000 {
		t.Errorf("%d pairs, %d of them in each other's way: the test proves little", held, wrong)
	}
}

// meets reports whether a box meets another one when it comes in along a way, from
// however far: the way leads through where the two would overlap.
func (f Floor) meets(b, there LayBox, way [2]float64) bool {
	const hair = 1e-4
	_, ax := f.extent(LayBox{Turned: b.Turned}, 0)
	_, ay := f.extent(LayBox{Turned: b.Turned}, 1)
	_, cx := f.extent(LayBox{Turned: there.Turned}, 0)
	_, cy := f.extent(LayBox{Turned: there.Turned}, 1)
	in, out := 0.0, math.Inf(1)
	for axis, half := range [2]float64{ax + cx - hair, ay + cy - hair} {
		from := [2]float64{b.X - there.X, b.Y - there.Y}[axis]
		if way[axis] == 0 {
			if from <= -half || from >= half {
				return false
			}
			continue
		}
		a, c := (-half-from)/way[axis], (half-from)/way[axis]
		in, out = max(in, min(a, c)), min(out, max(a, c))
	}
	return in < out
}
