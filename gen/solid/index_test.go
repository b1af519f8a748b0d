package solid

import (
	"math/rand/v2"
	"slices"
	"testing"

	"gridferry/gen/geom"
)

func TestIndexFindsWhatALoopFinds(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	random := func(spread, size float64) Bounds {
		lo := geom.Vec{X: r.Float64() * spread, Y: r.Float64() * spread, Z: r.Float64() * spread}
		return Bounds{lo, lo.Add(geom.Vec{X: r.Float64() * size, Y: r.Float64() * size, Z: r.Float64() * size})}
	}
	for n := range 60 {
		var boxes []Bounds
		for range n {
			boxes = append(boxes, random(100, 30))
		}
		x := NewIndex(boxes)
		for range 50 {
			b := random(100, 40)
			var want []int
			for i := range boxes {
				if boxes[i].Overlaps(&b) {
					want = append(want, i)
				}
			}
			if got := x.Overlapping(&b); !slices.Equal(got, want) {
				t.Fatalf("of %d boxes %v, wanted %v", n, got, want)
			}
		}
	}
}

func TestIndexOfEqualBoxes(t *testing.T) {
	x := NewIndex(slices.Repeat([]Bounds{{geom.Vec{}, geom.Vec{X: 1, Y: 1, Z: 1}}}, 1000))
	if got := x.Overlapping(&Bounds{geom.Vec{X: 0.5}, geom.Vec{X: 2, Y: 1, Z: 1}}); len(got) != 1000 {
		t.Errorf("%d found, wanted 1000", len(got))
	}
}
