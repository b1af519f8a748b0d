package gen_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
)

// TestZonesStackInGroups follows random stacks that a tool with two zones builds and takes apart:
// what goes in one descent counts as one. No box may be shut off by another one that stands,
// and some layers have to go in half as many descents as they have boxes.
func TestZonesStackInGroups(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 17))
	built, halved := 0, 0
	for range 120 {
		size := [3]float64{100 * float64(2+random.IntN(5)), 100 * float64(2+random.IntN(3)), 150}
		pallet := [2]float64{100 * float64(6+random.IntN(7)), 100 * float64(6+random.IntN(7))}
		pick := func(words ...string) string { return words[random.IntN(len(words))] }
		side := pick("-x", "+x", "-y", "+y")
		text := fmt.Sprintf(stackPlan, size[0], size[1], size[2], 150., 1+random.IntN(3),
			pick("best", "columns", "brick", "pinwheel"), pick("none", "turn", "mirror"), 0., ", side: "+side, pallet[0], pallet[1])
		zone := "{at: [0, %g, 0], grip: {output: %d, level: on}, release: {output: %[2]d, level: off}}"
		text = strings.Replace(text, "mass: 5, grip: {output: 1, level: on}, release: {output: 1, level: off}",
			"mass: 5, zones: {one: "+fmt.Sprintf(zone, -size[1]/2, 1)+", two: "+fmt.Sprintf(zone, size[1]/2, 2)+"}", 1)
		text = strings.Replace(strings.Replace(text, "to: stack}", "to: stack, at_once: 2}", 1), "to: outfeed}", "to: outfeed, at_once: 2}", 1)
		text = strings.ReplaceAll(text, "rows: 1, columns: 1, ", fmt.Sprintf("rows: 2, columns: 1, pitch: [0, %g], ", -size[1]))
		j := new(gen.Job)
		if !j.Read(plan.Source{File: "stack.plan.yaml", Data: []byte(text), Dir: "."}, nil, layout.Options{}) {
			continue
		}
		built++
		stack := j.Layout.Grids[1]
		if followGroups(t, j, size, side, text) == stack.Size()/2 && stack.Size() > 3 {
			halved++
		}
	}
	if built < 60 || halved < 10 {
		t.Errorf("%d stacks were built, %d of them by pairs alone: too few to tell", built, halved)
	}
}

// followGroups is how many descents a stack was built in.
func followGroups(t *testing.T, j *gen.Job, size [3]float64, side, text string) (descents int) {
	t.Helper()
	var stand, group []carton
	var tool move.Point
	var by string
	taking := false
	settle := func() {
		for i, box := range group {
			for _, other := range stand {
				if slices.Contains(group, other) {
					continue
				}
				over := other.bottom > box.bottom+1 && other.shared(box) > 1
				if over || math.Abs(other.bottom-box.bottom) < 1 && other.between(box, side) {
					t.Fatalf("%v is in the way of %v, %d of its group\n%s", other, box, i, text)
				}
			}
		}
		if taking {
			stand = slices.DeleteFunc(stand, func(c carton) bool { return slices.Contains(group, c) })
		} else if stand = append(stand, group...); len(group) > 0 {
			descents++
		}
		group = nil
	}
	for m := range j.Moves() {
		if m.Kind.IsMotion() {
			settle()
			tool, by = m.Base, m.Tool
		}
		if m.Target.Grid != "stack" || m.Kind != move.Release && m.Kind != move.Grip {
			continue
		}
		at := tool.Vec
		if m.Tool != by { // the second zone, where the first one stands at its own slot
			at = at.Add(tool.RPY.Rot().Apply(geom.Vec{Y: size[1]}))
		}
		half := [2]float64{size[0] / 2, size[1] / 2}
		if turn := math.Mod(math.Abs(math.Round(tool.Yaw)), 180); turn == 90 {
			half[0], half[1] = half[1], half[0]
		}
		fine := func(x float64) float64 { return math.Round(x*1000) / 1000 }
		x, y, bottom := at.X-900, at.Y+300, at.Z-100-150
		box := carton{fine(x - half[0]), fine(x + half[0]), fine(y - half[1]), fine(y + half[1]), fine(bottom), fine(bottom + size[2])}
		taking = m.Kind == move.Grip
		if slices.Contains(stand, box) != taking {
			t.Fatalf("%v: taken %v, but stands %v\n%s", box, taking, stand, text)
		}
		group = append(group, box)
	}
	if settle(); len(stand) > 0 {
		t.Fatalf("%d boxes are left\n%s", len(stand), text)
	}
	return descents
}
