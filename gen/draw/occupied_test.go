package draw

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestOccupied: what a label covers is found by squares as it is by going through everything,
// each thing once, also beyond the edge and where it is large.
func TestOccupied(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	some := func(most float64) rect {
		return box(dice.Float64()*220-10, dice.Float64()*120-10, dice.Float64()*most, dice.Float64()*most)
	}
	p := placer{in: box(0, 0, 200, 100)}
	var all []weighted
	for range 300 {
		for list, weight := range map[*[]rect]float64{&p.taken: 10, &p.texts: 40, &p.axes: 5, &p.lines: 4} {
			r := some([]float64{1, 20, 90}[dice.IntN(3)])
			*list = append(*list, r)
			all = append(all, weighted{r, weight})
		}
		spot := some(30)
		want := 0.0
		for _, w := range all {
			want += w.weight * w.shared(spot.grown(0.5))
		}
		if got := p.cost(spot, math.Inf(1)); math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("among %d things %v costs %g, wanted %g", len(all), spot, got, want)
		}
		if got := p.cost(spot, want/2); want > 0 && got <= want/2 {
			t.Fatalf("it costs %g, and %g where no more than %g is wanted", want, got, want/2)
		}
	}
	if len(p.occupied.large) == 0 || len(p.occupied.large) == len(all) {
		t.Errorf("%d of %d are large", len(p.occupied.large), len(all))
	}
}
