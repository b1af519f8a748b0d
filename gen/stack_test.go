package gen_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
)

// carton is a box as the list of moves puts it down: what it covers along X and Y of the
// stack's frame, its bottom and its top.
type carton struct{ x0, x1, y0, y1, bottom, top float64 }

func (a carton) shared(b carton) float64 {
	return max(0, min(a.x1, b.x1)-max(a.x0, b.x0)) * max(0, min(a.y1, b.y1)-max(a.y0, b.y0))
}

// between reports whether a lies in b's way to a side.
func (a carton) between(b carton, side string) bool {
	const hair = 0.01
	alongX := min(a.y1, b.y1)-max(a.y0, b.y0) > hair
	alongY := min(a.x1, b.x1)-max(a.x0, b.x0) > hair
	switch side {
	case "-x":
		return alongX && a.x1 <= b.x0+hair
	case "+x":
		return alongX && a.x0 >= b.x1-hair
	case "-y":
		return alongY && a.y1 <= b.y0+hair
	}
	return alongY && a.y0 >= b.y1-hair
}

const stackPlan = `format: gridferry plan 1
cell:
  tools: {plate: {tcp: {at: [0, 0, 200]}, mass: 5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {dock: {at: [900, -300, 100]}, belt: {at: [900, 2000, 100]}}
  poses: {clear: {at: [1000, 1000, 3000]}}
parts: {carton: {mass: 7, size: [%g, %g, %g], grip: %g}}
grids:
  infeed: {frame: belt, rows: 1, columns: 1, first: [200, 200, %[4]g], part: carton, flow: in}
  stack: {frame: dock, boxes: {layers: %d, pattern: %s, alternate: %s, gap: %g%s}, pallet: [%g, %g], part: carton}
  outfeed: {frame: belt, rows: 1, columns: 1, first: [1200, 200, %[4]g], part: carton, flow: out}
motion: {tool: plate, approach: 700, speed: {travel: 500, near: 60}, clear: clear}
transfers:
  - {from: infeed, to: stack}
  - {from: stack, to: outfeed}
`

// TestStacksAreBuiltAndTakenApart follows the moves of random stacks by arithmetic of its own: a box
// is where the tool lets go of it, turned as the tool is. None may be over the edge, in
// another one, on too little, in reach of the tool only over a higher one, or shut off from
// the tool's side. Taken apart, the last one comes first.
func TestStacksAreBuiltAndTakenApart(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	stacks, built, hollow := 300, 0, 0
	if testing.Short() {
		stacks = 60
	}
	for n := range stacks {
		size := [3]float64{50 * float64(2+random.IntN(10)), 50 * float64(2+random.IntN(8)), 10 * float64(5+random.IntN(30))}
		pallet := [2]float64{100 * float64(4+random.IntN(9)), 100 * float64(4+random.IntN(9))}
		layers, gap := 1+random.IntN(4), float64(random.IntN(3))*3.5
		pick := func(words ...string) string { return words[random.IntN(len(words))] }
		side := pick("", "-x", "+x", "-y", "+y")
		key := ""
		if side != "" {
			key = ", side: " + side
		} else {
			side = "-x" // the base is 900 mm outside of it
		}
		text := fmt.Sprintf(stackPlan, size[0], size[1], size[2], size[2]*random.Float64(), layers,
			pick("best", "columns", "brick", "pinwheel"), pick("none", "turn", "mirror"), gap, key, pallet[0], pallet[1])
		j := new(gen.Job)
		if !j.Read(plan.Source{File: "stack.plan.yaml", Data: []byte(text), Dir: "."}, nil, layout.Options{}) {
			continue // nothing fits
		}
		if !j.Check() {
			for _, f := range j.Findings.Sorted() { // a layer with a hole in it may bear too little
				if f.Rule != "no-support" && f.Rule != "limits-unknown" && f.Severity.String() == "error" {
					t.Fatalf("plan %d: %s: %s\n%s", n, f.Rule, f.Message, text)
				}
			}
			hollow++
			continue
		}
		built++
		follow(t, j, size, pallet, side, text)
	}
	if built < stacks/2 || hollow == 0 {
		t.Errorf("%d stacks were built, %d had too little under a box: too few to tell", built, hollow)
	}
}

// follow builds one stack by its moves, and takes it apart.
func follow(t *testing.T, j *gen.Job, size [3]float64, pallet [2]float64, side, text string) {
	t.Helper()
	var stand []carton
	var tool move.Point // where it stands
	for m := range j.Moves() {
		if m.Kind.IsMotion() {
			tool = m.Base
		}
		if m.Target.Grid != "stack" || m.Kind != move.Release && m.Kind != move.Grip {
			continue
		}
		half := [2]float64{size[0] / 2, size[1] / 2}
		if turn := math.Mod(math.Abs(math.Round(tool.Yaw)), 180); turn == 90 {
			half[0], half[1] = half[1], half[0]
		}
		x, y := tool.X-900, tool.Y+300
		grip := j.Layout.Parts[0].Grip
		bottom := tool.Z - 100 - grip
		box := carton{x - half[0], x + half[0], y - half[1], y + half[1], bottom, bottom + size[2]}
		if m.Kind == move.Grip {
			if len(stand) == j.Layout.Grids[1].Size() {
				alternates(t, stand, j.Layout.Grids[1].PerLayer(), pallet, text)
			}
			if last := stand[len(stand)-1]; math.Abs(last.x0-box.x0)+math.Abs(last.y0-box.y0)+math.Abs(last.bottom-box.bottom) > 1e-6 {
				t.Fatalf("%v is taken before %v, which was put down last\n%s", box, last, text)
			}
			stand = stand[:len(stand)-1]
			continue
		}
		rests(t, box, stand, pallet, side, text)
		stand = append(stand, box)
	}
	if len(stand) > 0 {
		t.Fatalf("%d boxes are left\n%s", len(stand), text)
	}
}

// alternates holds the second layer to what the plan says of it.
func alternates(t *testing.T, stand []carton, per int, pallet [2]float64, text string) {
	t.Helper()
	if len(stand) < 2*per {
		return
	}
	image := func(of func(x, y float64) (float64, float64)) bool {
		for _, b := range stand[:per] {
			x0, y0 := of(b.x0, b.y0)
			x1, y1 := of(b.x1, b.y1)
			if !slices.ContainsFunc(stand[per:2*per], func(c carton) bool {
				return math.Abs(min(x0, x1)-c.x0)+math.Abs(max(x0, x1)-c.x1)+math.Abs(min(y0, y1)-c.y0)+math.Abs(max(y0, y1)-c.y1) < 0.01
			}) {
				return false
			}
		}
		return true
	}
	same := image(func(x, y float64) (float64, float64) { return x, y })
	turned := image(func(x, y float64) (float64, float64) { return pallet[0] - x, pallet[1] - y })
	leftRight := image(func(x, y float64) (float64, float64) { return pallet[0] - x, y })
	frontBack := image(func(x, y float64) (float64, float64) { return x, pallet[1] - y })
	for word, is := range map[string]bool{"none": same, "turn": turned, "mirror": leftRight || frontBack} {
		if strings.Contains(text, "alternate: "+word) && !is {
			t.Fatalf("the second layer is not as %q says\n%s", word, text)
		}
	}
}

// rests looks at one box where it is put down.
func rests(t *testing.T, box carton, stand []carton, pallet [2]float64, side, text string) {
	t.Helper()
	const hair = 0.01
	if box.x0 < -hair || box.y0 < -hair || box.x1 > pallet[0]+hair || box.y1 > pallet[1]+hair {
		t.Fatalf("%v is over the edge\n%s", box, text)
	}
	base, borne := (box.x1-box.x0)*(box.y1-box.y0), 0.0
	for _, other := range stand {
		if min(other.top, box.top)-max(other.bottom, box.bottom) > hair && min(other.x1, box.x1)-max(other.x0, box.x0) > hair && min(other.y1, box.y1)-max(other.y0, box.y0) > hair {
			t.Fatalf("%v is in %v\n%s", box, other, text)
		}
		if math.Abs(other.top-box.bottom) < hair {
			borne += other.shared(box)
		}
		if other.top > box.top+hair {
			t.Fatalf("%v is put down over %v, which is higher\n%s", box, other, text)
		}
		if math.Abs(other.top-box.top) < hair && other.between(box, side) {
			t.Fatalf("%v shuts %v off from the side %s\n%s", other, box, side, text)
		}
	}
	if box.bottom > hair && borne < 0.6*base-1 {
		t.Fatalf("%v rests with %.0f %% of its base\n%s", box, 100*borne/base, text)
	}
}
