package golden

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// block is rows × columns of cartons, straight (long side along X) or turned.
type block struct {
	x, y          float64 // its corner towards the origin of the pallet
	rows, columns int
	turned        bool
}

// TestPalletPatterns lays cartons on the pallets of ISO 6780:2003 as the arithmetic of
// the trade says, and asks the check: they fit, and none is over the edge or in
// another one; larger ones on the same places are found out.
func TestPalletPatterns(t *testing.T) {
	for _, c := range []struct {
		pallet        string
		length, width float64 // of a carton
		cartons       int
		blocks        []block
	}{
		{"1200x800", 600, 400, 4, []block{{0, 0, 2, 2, false}}},
		{"1200x800", 400, 300, 6, []block{{0, 0, 2, 3, false}}},
		{"1200x800", 400, 300, 8, []block{{0, 0, 2, 4, true}}},
		{"1200x800", 300, 200, 16, []block{{0, 0, 4, 4, false}}},
		{"1200x1000", 600, 400, 4, []block{{0, 0, 2, 2, false}}},
		{"1200x1000", 600, 400, 3, []block{{0, 0, 1, 3, true}}},
		{"1200x1000", 600, 400, 5, []block{{0, 0, 1, 3, true}, {0, 600, 1, 2, false}}},
		{"1200x1000", 300, 200, 20, []block{{0, 0, 5, 4, false}}},
		{"1200x1000", 400, 300, 9, []block{{0, 0, 3, 3, false}}},
		{"1200x1000", 400, 300, 10, []block{{0, 0, 1, 4, true}, {0, 400, 2, 3, false}}},
		{"1140x1140", 600, 400, 2, []block{{0, 0, 2, 1, false}}},
		// The pinwheel: four cartons about a hole of 200 × 200.
		{"1140x1140", 600, 400, 4, []block{{0, 0, 1, 1, false}, {600, 0, 1, 1, true}, {400, 600, 1, 1, false}, {0, 400, 1, 1, true}}},
	} {
		name := fmt.Sprintf("%s with %d of %gx%g", c.pallet, c.cartons, c.length, c.width)
		t.Run(name, func(t *testing.T) {
			n := 0
			for _, b := range c.blocks {
				n += b.rows * b.columns
			}
			if n != c.cartons {
				t.Fatalf("the pattern has %d cartons", n)
			}
			if found := palletFaults(t, c.pallet, c.length, c.width, c.blocks); found != nil {
				t.Errorf("the check finds %v", found)
			}
			// Every pattern has cartons side by side: a millimetre more and they meet.
			if found := palletFaults(t, c.pallet, c.length+1, c.width+1, c.blocks); found == nil {
				t.Error("the check finds nothing when the cartons are a millimetre larger")
			}
		})
	}
}

// TestAreaBounds: one more row or column than the arithmetic allows is over the edge.
func TestAreaBounds(t *testing.T) {
	for _, c := range []struct {
		pallet        string
		length, width float64
		more          block
	}{
		{"1200x800", 600, 400, block{0, 0, 3, 2, false}},
		{"1200x800", 400, 300, block{0, 0, 3, 3, false}},
		{"1200x1000", 600, 400, block{0, 0, 1, 4, true}},
		{"1200x1000", 400, 300, block{0, 0, 4, 3, false}},
		{"1140x1140", 600, 400, block{0, 0, 3, 1, false}},
		{"1140x1140", 600, 400, block{0, 0, 1, 3, true}},
	} {
		if found := palletFaults(t, c.pallet, c.length, c.width, []block{c.more}); !slices.Contains(found, "part-over-edge") {
			t.Errorf("%s with %+v of %gx%g: the check finds %v, wanted part-over-edge", c.pallet, c.more, c.length, c.width, found)
		}
	}
}

// palletFaults is the rules that a pattern breaks, of those about edges and parts.
// Cartons larger than the pattern's own keep its pitch.
func palletFaults(t *testing.T, pallet string, length, width float64, blocks []block) []string {
	t.Helper()
	nominal := [2]float64{float64(int(length/100) * 100), float64(int(width/100) * 100)}
	grids, parts := "", fmt.Sprintf("parts: {straight: {mass: 1, size: [%g, %g, 200]}, turned: {mass: 1, size: [%g, %g, 200]}}\n", length, width, width, length)
	for i, b := range blocks {
		part, size := "straight", nominal
		if b.turned {
			part, size = "turned", [2]float64{nominal[1], nominal[0]}
		}
		grids += fmt.Sprintf("  g%d: {frame: bed, rows: %d, columns: %d, pitch: [%g, %g], first: [%g, %g, 100], part: %s, filled: all, pallet: %s}\n",
			i, b.rows, b.columns, size[0], size[1], b.x+size[0]/2, b.y+size[1]/2, part, pallet)
	}
	grids += "  away: {frame: base, rows: 1, columns: 1, first: [-2000, 0, 100]}\n"
	plan := palletPlan(t, parts, grids)
	var found []finding
	if err := json.Unmarshal([]byte(run("check", plan, "--format", "json").stdout), &found); err != nil {
		t.Fatal(err)
	}
	var rules []string
	for _, f := range found {
		switch {
		case f.Rule == "part-over-edge" || f.Rule == "part-hits-part":
			rules = append(rules, f.Rule)
		case f.Severity == "error":
			t.Fatalf("another error: %+v", f)
		}
	}
	return rules
}

// palletPlan is a plan that takes the first carton away from above.
func palletPlan(t *testing.T, parts, grids string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "pallet.plan.yaml")
	text := "format: gridferry plan 1\n" + fmt.Sprintf(factCell, "bed: {at: [800, -600, 0]}") + parts + "grids:\n" + grids +
		"motion: {tool: cup, approach: 300, speed: {travel: 200, near: 40}}\ntransfers:\n  - {from: g0 A1, to: away}\n"
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}
