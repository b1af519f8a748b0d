package sheet_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
)

// mapOf is the map of margins of a grid on a sheet.
func mapOf(t *testing.T, page, grid string) string {
	t.Helper()
	_, from, found := strings.Cut(page, fmt.Sprintf(`aria-label="%s, margins">`, grid))
	svg, _, closed := strings.Cut(from, "</svg>")
	if !found || !closed {
		t.Fatalf("there is no map of %s", grid)
	}
	return svg
}

var fieldText = regexp.MustCompile(`<text class="turn[^>]*>([^<]*)</text><text class="turn[^>]*>([^<]*)</text>`)

// The demo's slots have as much left of what the list itself says of joint 5, whose axis brings axes 4 and 6 into line where it
// reads 0: no field shows more than that, and the fields that name it show just that.
func TestMarginsOfTheDemo(t *testing.T) {
	const file = demoFolder + "mortar-cubes.plan.yaml"
	text := page(t, fileSource(t, file), "listing")
	job := new(gen.Job)
	if !job.Read(fileSource(t, file), nil, layout.Options{}) {
		t.Fatal(job.Findings.Sorted())
	}
	least := map[string]map[string]int{} // how many slots of a grid have what left to a straight wrist
	bySlot := map[string]float64{}
	for m := range job.Moves() {
		if m.Joints == nil || m.Target.Grid == "" {
			continue
		}
		at, left := m.Target.Below().String(), math.Abs(m.Joints[4])
		if was, ok := bySlot[at]; !ok || left < was {
			bySlot[at] = left
		}
	}
	for at, left := range bySlot {
		grid, _, _ := strings.Cut(at, " ")
		if least[grid] == nil {
			least[grid] = map[string]int{}
		}
		least[grid][fmt.Sprintf("%d°", int(left))]++
	}
	for grid, slots := range map[string]int{"tray": 23, "balance": 1, "rack": 23} {
		svg := mapOf(t, text, grid)
		fields := fieldText.FindAllStringSubmatch(svg, -1)
		if len(fields) != slots {
			t.Errorf("%s: %d fields have a figure and a name, wanted %d", grid, len(fields), slots)
		}
		straight := 0
		for _, f := range fields {
			if f[2] == "J5 sing." {
				straight++
				if least[grid][f[1]]--; least[grid][f[1]] < 0 {
					t.Errorf("%s: a field shows %s to a straight wrist, and no slot more has that", grid, f[1])
				}
			}
		}
		if straight == 0 && grid != "balance" {
			t.Errorf("%s: no field names a singular place", grid)
		}
	}
	if strings.Count(mapOf(t, text, "rack"), `class="free"`) != 1 {
		t.Error("the slot of the rack that stays free has no dashed field")
	}
}

// A cell without an arm has no such maps.
func TestNoMarginsWithoutAnArm(t *testing.T) {
	if text := page(t, small("plain", "", 2, 3), "listing"); strings.Contains(text, "Margins of the arm") {
		t.Error("margins of an arm that nobody described")
	}
}

// A grid of thousands of slots stays small on the sheet, and names what limits most.
func TestMarginsOfALargeGrid(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: it checks 2070 transfers")
	}
	source := plan.Source{File: "large.plan.yaml", Data: []byte(`format: gridferry plan 1
cell:
  arm:
    joints:
      - {name: J1, axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]}
      - {name: J2, axis: [0, 0, 1], point: [250, 0, 0], range: [-150, 150]}
      - {name: Z, slides: [0, 0, 1], range: [-400, 100]}
      - {name: J4, axis: [0, 0, 1], point: [500, 0, 0], range: [-350, 350]}
    flange: {at: [500, 0, 500], rpy: [180, 0, 0]}
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  keep_out: {}
parts: {p: {mass: 0.01, size: [1, 1, 1]}}
grids:
  near: {frame: base, rows: 45, columns: 46, pitch: [2, 2], first: [300, -50, 60], part: p, filled: all}
  far: {frame: base, rows: 45, columns: 46, pitch: [2, 2], first: [300, -180, 60], part: p}
motion: {tool: jaw, approach: 30, speed: {travel: 200, near: 40}, clear: none}
transfers: [{from: near, to: far}]
`)}
	text := page(t, source, "listing")
	for _, grid := range []string{"near", "far"} {
		if svg := mapOf(t, text, grid); len(svg) > 60_000 || !strings.Contains(text, "Each field stands for up to 2 × 2 slots, and shows the one that has least.") {
			t.Errorf("%s: the map has %d bytes", grid, len(svg))
		}
	}
	if !strings.Contains(text, `<th scope="col" class="n">and at so many slots</th>`) {
		t.Error("no table of what leaves least")
	}
}
