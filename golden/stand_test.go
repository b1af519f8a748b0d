package golden

import (
	"math"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan"
)

// floors is how high the parts of a demo's grids stand above their frames, and cards
// what lies between two layers, mm: what the remarks in the plans say.
var (
	floors = map[string]float64{"tube-rack open": 6, "tube-rack dense": 6, "dense-plate from": 8.5, "dense-plate to": 8.5}
	cards  = map[string]float64{"cartons outbound": 2}
)

// TestDemoPartsStand: no part of a demo floats above what it stands on, or in it.
func TestDemoPartsStand(t *testing.T) {
	t.Chdir(demoFolder)
	for _, name := range []string{"cartons", "dense-plate", "mortar-cubes", "odd-grids", "tube-rack"} {
		source, err := plan.Open(name+".plan.yaml", strings.NewReader(""))
		job := new(gen.Job)
		if err != nil || !job.Read(source, nil, layout.Options{}) {
			t.Fatal(name, err, job.Findings.Sorted())
		}
		for _, g := range job.Layout.Grids {
			key, part := name+" "+g.Name, job.Layout.PartIn(g)
			if at := g.At(slot.Slot{}).Z - part.Grip; math.Abs(at-floors[key]) > 1e-9 {
				t.Errorf("%s stands %g mm above its frame, wanted %g", key, at, floors[key])
			}
			for layer := int32(1); int(layer) < g.Layers; layer++ {
				step := g.At(slot.Slot{Layer: layer}).Z - g.At(slot.Slot{Layer: layer - 1}).Z
				if gap := step - part.Size.Z; math.Abs(gap-cards[key]) > 1e-9 {
					t.Errorf("%s: layer %d lies %g mm above the one below, wanted %g", key, layer+1, gap, cards[key])
				}
			}
		}
	}
}
