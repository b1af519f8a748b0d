package pattern

import (
	"math"
	"testing"
)

// TestOverlapByHand: the shares and joints of layers that can be drawn on a napkin.
func TestOverlapByHand(t *testing.T) {
	bars := Floor{Footprint: [2]float64{600, 600}, Base: [2]float64{600, 200}}
	along := []LayBox{{300, 100, 0}, {300, 300, 0}, {300, 500, 0}}
	across := []LayBox{{100, 300, 90}, {300, 300, 90}, {500, 300, 90}}
	wall := Floor{Footprint: [2]float64{800, 200}, Base: [2]float64{400, 200}}
	two, shifted := []LayBox{{200, 100, 0}, {600, 100, 0}}, []LayBox{{400, 100, 0}, {800, 100, 0}}
	for _, c := range []struct {
		name            string
		floor           Floor
		lower, upper    []LayBox
		rests           []float64
		on              []int
		joints, through float64
	}{
		{"bars on bars", bars, along, along, []float64{1, 1, 1}, []int{1, 1, 1}, 1200, 1200},
		{"bars across bars", bars, along, across, []float64{1, 1, 1}, []int{3, 3, 3}, 1200, 0},
		{"a wall", wall, two, shifted, []float64{1, 0.5}, []int{2, 1}, 200, 0},
		{"on nothing", wall, nil, two, []float64{0, 0}, []int{0, 0}, 200, 0},
		{"nothing on it", wall, two, nil, nil, nil, 0, 0},
	} {
		o := c.floor.Overlap(c.lower, c.upper, plenty())
		for i, want := range c.rests {
			if math.Abs(o.Rests[i]-want) > 1e-6 || o.On[i] != c.on[i] {
				t.Errorf("%s: box %d rests with %g on %d, wanted %g on %d", c.name, i, o.Rests[i], o.On[i], want, c.on[i])
			}
		}
		if len(o.Rests) != len(c.rests) || math.Abs(o.Joints-c.joints) > 0.01 || math.Abs(o.Through-c.through) > 0.01 {
			t.Errorf("%s: %d boxes, joints %g, through %g, wanted %d, %g, %g", c.name, len(o.Rests), o.Joints, o.Through, len(c.rests), c.joints, c.through)
		}
	}
}
