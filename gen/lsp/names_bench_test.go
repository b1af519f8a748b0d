package lsp_test

import (
	"path/filepath"
	"strings"
	"testing"
)

// long is a plan with so many entries of the transfers, a line each.
func long(b *testing.B, entries int) (file, text string) {
	return filepath.Join(b.TempDir(), "long.plan.yaml"), `format: gridferry plan 1
cell:
  tools:
    jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}
  frames: {bath: {at: [300, 0, 0]}, pan: {at: [300, 300, 0]}}
  poses: {clear: {at: [300, 0, 420]}}
parts: {cube: {mass: 0.28}}
grids:
  tray: {frame: bath, rows: 1, columns: 1, first: [0, 0, 30], part: cube, flow: in}
  rack: {frame: pan, rows: 1, columns: 1, first: [0, 0, 30], part: cube, flow: out}
motion: {tool: jaw, approach: 70, speed: {travel: 500, near: 80}, clear: clear}
transfers:
` + strings.Repeat("  - {from: tray, to: rack, take: 1}\n", entries)
}

// BenchmarkNames is what an editor waits for after a letter was typed: in the demo plan, and in one of a hundred thousand lines.
func BenchmarkNames(b *testing.B) {
	behind := span{position{1 << 30, 0}, position{1 << 30, 0}}
	plan := filepath.Join(demo(b, "mortar-cubes.plan.yaml", "bench.cell.yaml"), "mortar-cubes.plan.yaml")
	file, text := long(b, 100_000)
	for _, size := range []struct{ name, file, text string }{{"demo", plan, read(b, plan)}, {"long", file, text}} {
		for _, method := range []string{"definition", "documentHighlight", "references", "rename", "foldingRange", "documentSymbol", "codeLens"} {
			b.Run(size.name+"/"+method, func(b *testing.B) {
				e := edit(b)
				e.open(size.file, size.text)
				e.until(size.file, 1)
				request := with(with(at(size.file, size.text, "  rack:", 3), "newName", "shelf"), "context", map[string]bool{"includeDeclaration": true})
				for version := 2; b.Loop(); version++ {
					e.change(size.file, version, behind, "# more\n")
					e.ask("textDocument/"+method, request, nil)
				}
			})
		}
	}
}
