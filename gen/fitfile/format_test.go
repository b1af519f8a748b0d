package fitfile_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// examples are the YAML blocks of FORMAT.md's part on measured geometry.
func examples(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile("../../plan/FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	_, part, found := strings.Cut(string(data), "\n## Measured geometry\n")
	if !found {
		t.Fatal("FORMAT.md has no part \"Measured geometry\"")
	}
	part, _, _ = strings.Cut(part, "\n## ")
	var blocks []string
	for _, b := range strings.Split(part, "```yaml\n")[1:] {
		block, _, _ := strings.Cut(b, "```")
		blocks = append(blocks, block)
	}
	return blocks
}

// shown puts an example into a cell or plan that has whatever else it needs.
func shown(t *testing.T, block string) (*layout.Layout, []diag.Finding) {
	t.Helper()
	cell, grids := block, "grids:\n"
	measured := "format: gridferry measured 1\n"
	switch {
	case strings.HasPrefix(block, "grids:"):
		cell, grids = "", block
	case strings.HasPrefix(block, "format:"):
		cell, measured = "", block
	}
	if !strings.Contains(cell, "frames:") {
		cell += "frames: {bath: {at: [300, -200, 40]}}\n"
	}
	if !strings.Contains(cell, "tools:") {
		cell += "tools: {jaw: {tcp: {at: [0, 0, 132]}, mass: 1, grip: {output: 1, level: on, settle: 0.4}, release: {output: 1, level: off, settle: 0.3}}}\n"
	}
	cell += "poses: {clear: {at: [600, 500, 500]}}\nmachine: {rated_load: 9, speed: 1000, acceleration: 1000, reach: {radius: [10, 3000], height: [-500, 900]}}\nkeep_out: {}\nmeasured: measured.yaml\n"
	grids += "  from: {frame: base, rows: 1, columns: 1, first: [300, 600, 60], part: carton, filled: all}\n  to: {frame: base, rows: 1, columns: 1, first: [800, 600, 60], part: carton}\n"
	dir := t.TempDir()
	for name, text := range map[string]string{"cell.yaml": header + cell, "measured.yaml": measured} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	text := "format: gridferry plan 1\ncell: cell.yaml\nparts: {carton: {mass: 2, size: [400, 500, 50], grip: 40}}\n" + grids +
		"motion: {tool: jaw, approach: 90, clear: clear, speed: {travel: 100, near: 50}}\ntransfers: [{from: from, to: to}]\n"
	var list diag.List
	var sources diag.Sources
	l := layout.Resolve(plan.Read(plan.Source{File: "p", Data: []byte(text), Dir: dir}, nil, &list, &sources), layout.Options{}, &list)
	if !list.HasErrors() {
		check.Run(l, expand.Batches(l, expand.Whole), &list)
	}
	return l, list.Sorted()
}

// TestExamplesOfTheFormatPage holds that every example is what it is said to be: it can
// be read, and nothing that was measured in it gets a finding.
func TestExamplesOfTheFormatPage(t *testing.T) {
	blocks := examples(t)
	if len(blocks) != 7 {
		t.Fatalf("there are %d examples, want 7", len(blocks))
	}
	for i, block := range blocks {
		_, findings := shown(t, block)
		for _, f := range findings {
			t.Errorf("example %d: %s: %s [%s]", i+1, f.Place, f.Message, f.Rule)
		}
	}
}

// The figures that the page gives for its own examples.
func TestFiguresOfTheFormatPage(t *testing.T) {
	blocks := examples(t)
	l, _ := shown(t, blocks[1])
	table := l.Frames[1]
	near(t, "table", table.Base.T, geom.Vec{X: 250.058, Y: -149.977, Z: 40.015}, 1e-3)
	if worst := table.Fit.Best; worst.Worst != 2 || worst.Largest < 0.1085 || worst.Largest > 0.1095 {
		t.Errorf("got the largest residual %v at %d", worst.Largest, worst.Worst)
	}
	l, _ = shown(t, blocks[2])
	near(t, "tip", l.Tools[0].TCP.T, geom.Vec{X: 30, Y: -20, Z: 150}, 1e-9)
	near(t, "spot", l.Tools[0].Fit.Post, geom.Vec{X: 500, Y: 200, Z: 300}, 1e-9)
	for corner, want := range map[string][2]geom.Vec{
		"top-left":     {{X: 14.38, Y: -11.24}, {X: 113.38, Y: -74.24}},
		"top-right":    {{X: -113.38, Y: -11.24}, {X: -14.38, Y: -74.24}},
		"bottom-left":  {{X: 14.38, Y: 74.24}, {X: 113.38, Y: 11.24}},
		"bottom-right": {{X: -113.38, Y: 74.24}, {X: -14.38, Y: 11.24}},
	} {
		l, _ = shown(t, strings.Replace(blocks[4], "corner: top-left ", "corner: "+corner+" ", 1))
		g := l.Grids[0]
		for i, label := range []string{"A1", "H12"} {
			s, _ := slot.Parse(label)
			near(t, corner+" "+label, g.At(s.Slot), geom.Vec{X: want[i].X, Y: want[i].Y, Z: 14.35}, 1e-9)
		}
	}
}
