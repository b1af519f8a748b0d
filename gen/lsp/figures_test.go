package lsp_test

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestFigures: what the transfers make stands above them, and what was fitted beside the frame.
func TestFigures(t *testing.T) {
	folder := demo(t, "mortar-cubes.plan.yaml", "bench.cell.yaml")
	plan, cell := filepath.Join(folder, "mortar-cubes.plan.yaml"), filepath.Join(folder, "bench.cell.yaml")
	text := read(t, plan)
	e := edit(t)
	e.open(plan, text)
	var lenses []struct {
		Range   span
		Command struct{ Title string }
	}
	of := map[string]any{"textDocument": map[string]any{"uri": uri(plan)}}
	e.ask("textDocument/codeLens", of, &lenses)
	if len(lenses) < 2 || !strings.HasPrefix(strings.Split(text, "\n")[lenses[0].Range.Start.Line], "transfers:") || !strings.Contains(lenses[0].Command.Title, " transfers, ") {
		t.Errorf("%+v", lenses)
	}
	if len(lenses) > 1 && !strings.HasPrefix(strings.Split(text, "\n")[lenses[1].Range.Start.Line], "  - ") {
		t.Errorf("%+v", lenses[1])
	}
	e.open(cell, read(t, cell))
	var hints []struct {
		Position position
		Label    string
	}
	everywhere := span{End: position{1 << 20, 0}}
	e.ask("textDocument/inlayHint", map[string]any{"textDocument": map[string]any{"uri": uri(cell)}, "range": everywhere}, &hints)
	found := false
	for _, h := range hints {
		line := strings.Split(read(t, cell), "\n")[h.Position.Line]
		found = found || strings.HasPrefix(line, "  bath:") && h.Position.Character == len(line) && strings.HasPrefix(h.Label, "at: [")
	}
	if !found {
		t.Errorf("%+v", hints)
	}
	e.ask("textDocument/inlayHint", map[string]any{"textDocument": map[string]any{"uri": uri(cell)}, "range": span{}}, &hints)
	if len(hints) != 0 {
		t.Errorf("%+v", hints)
	}
}

// measured is a cell in whose plan frame, tool and grid are examples of plan/FORMAT.md, which gives their answers.
const measured = `format: gridferry plan 1
cell:
  tools:
    jaw:
      tcp:
        pivot:
          - {at: [470, 220, 150], rpy: [0, 0, 0]}
          - {at: [470, 350, 320], rpy: [90, 0, 0]}
          - {at: [350, 220, 330], rpy: [0, 90, 0]}
          - {at: [480, 170, 150], rpy: [0, 0, 90]}
          - {at: [470, 50, 280],  rpy: [-90, 0, 0]}
      mass: 1
      grip: {output: 1, level: on}
      release: {output: 1, level: off}
  frames:
    table:   # fitted
      best_fit:
        points:
          - {name: front left,  nominal: [0, 0, 0],      measured: [250.1, -150.0, 40.0]}
          - {name: front right, nominal: [400, 0, 0],    measured: [570.0, 90.1, 40.1]}
          - {name: back left,   nominal: [0, 300, 0],    measured: [69.9, 90.0, 39.9]}
          - {name: back right,  nominal: [400, 300, 0],  measured: [390.0, 330.1, 40.0]}
          - {name: pin,         nominal: [200, 150, 60], measured: [320.0, 90.0, 100.1]}
grids:
  tray: {frame: table, rows: 4, columns: 6, corners: {A1: [40, 40, 0], A6: [365, 40, 0], D1: [40, 235, 0], D6: [365, 235, 0]}}
motion: {}
transfers: []
`

// TestDerived: what the points of the examples give is told at the ends of their lines, though the plan has errors.
func TestDerived(t *testing.T) {
	plan := filepath.Join(t.TempDir(), "m.plan.yaml")
	e := edit(t)
	e.open(plan, measured)
	var hints []struct {
		Position position
		Label    string
	}
	e.ask("textDocument/inlayHint", map[string]any{"textDocument": map[string]any{"uri": uri(plan)}, "range": span{End: position{100, 0}}}, &hints)
	said, lines := map[int]string{}, strings.Split(measured, "\n")
	for _, h := range hints {
		if said[h.Position.Line] = h.Label; h.Position.Character != len(lines[h.Position.Line]) {
			t.Errorf("%+v", h)
		}
	}
	for line, want := range map[int]string{
		3:  "at: [30, -20, 150]; at most ",
		6:  "0 mm off",
		15: "at: [250.058, -149.977, 40.01",
		18: "0.0",
		20: "0.109 mm off", // back left, the worst
		24: "pitch: [65, 65]; the fourth corner misses by 0 mm",
	} {
		if !strings.HasPrefix(said[line], want) {
			t.Errorf("line %d: %q, wanted %q", line, said[line], want)
		}
	}
	if !strings.HasSuffix(said[15], `; at most 0.109 mm off, at "back left"`) || !strings.Contains(said[15], ", 36.88") {
		t.Errorf("%q", said[15])
	}
}
