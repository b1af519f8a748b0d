package cli_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

const palletPlan = `format: gridferry plan 1
cell:
  tools: {plate: {tcp: {at: [0, 0, 200]}, mass: 5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {dock: {at: [900, -500, 100]}, belt: {at: [900, 2000, 100]}}
  poses: {clear: {at: [1000, 1000, 3000]}}
parts: {carton: {mass: 7, size: [%s, 150]}}
grids:
  infeed: {frame: belt, rows: 1, columns: 1, first: [200, 200, 75], part: carton, flow: in}
  stack: {frame: dock, boxes: {layers: 4, pattern: %s}, pallet: %s, part: carton}
motion: {tool: plate, approach: 400, speed: {travel: 500, near: 60}, clear: clear}
transfers: [{from: infeed, to: stack}]
`

// TestBoxesPerLayer is how many boxes of the sizes of ISO 3394 lie on pallets of ISO 6780: ten
// and eight are the counts that the trade knows for 400 × 300 (from memory); the others follow
// from the areas, and by hand for 600 × 400 on 1140 × 1140, where straight rows hold two
// (1140 < 2·600, 2·400 ≤ 1140 < 3·400) and a pinwheel of four needs 600 + 400 = 1000.
func TestBoxesPerLayer(t *testing.T) {
	for _, c := range []struct {
		box, pallet, pattern string
		boxes, share         int
	}{
		{"600, 400", "1200x800", "best", 4, 100},
		{"400, 300", "1200x800", "best", 8, 100},
		{"300, 200", "1200x800", "best", 16, 100},
		{"600, 400", "1200x1000", "columns", 4, 80},
		{"600, 400", "1200x1000", "best", 5, 100},
		{"300, 200", "1200x1000", "best", 20, 100},
		{"400, 300", "1200x1000", "columns", 9, 90},
		{"400, 300", "1200x1000", "best", 10, 100},
		{"400, 300", "1000x1200", "best", 10, 100},
		{"600, 400", "1140x1140", "columns", 2, 36},
		{"600, 400", "1140x1140", "pinwheel", 4, 73},
		{"600, 400", "1140x1140", "best", 4, 73},
		{"300, 200", "[600, 400]", "best", 4, 100}, // a quarter pallet
	} {
		text := fmt.Sprintf(palletPlan, c.box, c.pattern, c.pallet)
		r := gridferry(text, "check", "-")
		want := fmt.Sprintf("stack: %d boxes a layer, %d %% of the footprint", c.boxes, c.share)
		if r.status != 0 || !strings.Contains(r.err, want) {
			t.Errorf("%s on %s, %s: %s, wanted %q", c.box, c.pallet, c.pattern, r.err, want)
		}
	}
}

// TestStacksAsData: the same figures as data, beside the findings and the slots.
func TestStacksAsData(t *testing.T) {
	r := gridferry(fmt.Sprintf(palletPlan, "600, 400", "best", "1200x1000"), "check", "-", "--slots", "--format", "json")
	var got struct {
		Stacks []struct {
			Grids    []string
			PerLayer int `json:"boxes_per_layer"`
			Boxes    int
			Height   float64
			Mass     float64
			Centre   [3]float64 `json:"centre_of_gravity"`
			Least    *float64   `json:"least_support"`
		}
	}
	if err := json.Unmarshal([]byte(r.out), &got); err != nil || r.status != 0 || len(got.Stacks) != 1 {
		t.Fatal(err, r)
	}
	if s := got.Stacks[0]; s.PerLayer != 5 || s.Boxes != 20 || s.Height != 600 || s.Mass != 140 || s.Centre != [3]float64{600, 500, 300} || s.Least == nil || *s.Least != 1 {
		t.Errorf("got %+v", s)
	}
}

// TestManyBoxesWrittenOut: a layer that writes out more boxes than are laid is refused once, with what to do.
func TestManyBoxesWrittenOut(t *testing.T) {
	out := "[" + strings.Repeat("{at: [60, 40]}, ", 2000) + "{at: [60, 40]}]"
	r := gridferry(fmt.Sprintf(palletPlan, "60, 40", out, "1200x800"), "check", "-")
	if r.status != 1 || strings.Count(r.err, "error:") != 1 || !strings.Contains(r.err, "[too-many-slots]") || !strings.Contains(r.err, "hint: write several grids of fewer boxes") {
		t.Errorf("status %d\n%.2000s", r.status, r.err)
	}
}
