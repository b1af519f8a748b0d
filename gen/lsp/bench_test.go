package lsp_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkEdit is from an edit to what the server finds then: in the demo of the mortar cubes, in a plan with 100,000 lines and in
// a worklist of as many. Work on what is the same as before is not done again, so that each edit changes a comment.
func BenchmarkEdit(b *testing.B) {
	folder := b.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join("..", "..", "testdata", "demo"))); err != nil {
		b.Fatal(err)
	}
	head := read(b, filepath.Join(folder, "mortar-cubes.plan.yaml"))
	grid := "grids:\n  tray: {frame: nest-1, rows: 250, columns: 400, pitch: [0.2, 0.2], first: [0, 0, 24], filled: all, part: bead}\n" +
		"  plate: {frame: nest-3, rows: 250, columns: 400, pitch: [0.2, 0.2], first: [0, 0, 24], part: bead}\n"
	plan := "format: gridferry plan 1\ntitle: large\ncell: worklist.cell.yaml\nparts: {bead: {mass: 0.001}}\n" + grid +
		"motion: {tool: cup, approach: 35, speed: {travel: 400, near: 40}, clear: none, start: clear}\n"
	var lines, list strings.Builder
	list.WriteString("from,to\n")
	for i := range 100_000 {
		slot := fmt.Sprintf("%s%d", letters(i/400), 1+i%400)
		fmt.Fprintf(&lines, "  - {from: tray %s, to: plate %s}\n", slot, slot)
		fmt.Fprintf(&list, "tray %s,plate %s\n", slot, slot)
	}
	for _, c := range []struct{ name, file, text string }{
		{"demo", "mortar-cubes.plan.yaml", head},
		{"plan of 100000 lines", "lines.plan.yaml", plan + "transfers:\n" + lines.String()},
		{"worklist of 100000 lines", "list.plan.yaml", plan + "transfers:\n  - list: large.csv\n"},
	} {
		file := filepath.Join(folder, c.file)
		for name, text := range map[string]string{"large.csv": list.String(), c.file: c.text} {
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
				b.Fatal(err)
			}
		}
		b.Run(c.name, func(b *testing.B) {
			e := edit(b)
			e.open(file, c.text)
			if found := e.until(file, 1); strings.Contains(words(found), `"Severity":1`) {
				b.Fatalf("%.1000s", words(found))
			}
			version := 1
			for b.Loop() {
				version++
				e.change(file, version, span{}, "# x\n")
				e.until(file, version)
			}
		})
	}
}

// letters is the name of a row, counted from 0.
func letters(row int) string {
	if row < 26 {
		return string(rune('A' + row))
	}
	return letters(row/26-1) + string(rune('A'+row%26))
}

// BenchmarkComplete is a request for what may be written, in the demo and at the end of 100,000 lines.
func BenchmarkComplete(b *testing.B) {
	folder := b.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join("..", "..", "testdata", "demo"))); err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(folder, "mortar-cubes.plan.yaml")
	for name, text := range map[string]string{"demo": "", "100000 lines": strings.Repeat("  - {from: tray A1, to: rack A1}\n", 100_000)} {
		b.Run(name, func(b *testing.B) {
			e := edit(b)
			text := read(b, file) + "transfers:\n" + text + "  - from: tr‸"
			e.opens(file, text)
			for b.Loop() {
				if got := e.completions(file, text); len(got) == 0 {
					b.Fatal("nothing")
				}
			}
		})
	}
}
