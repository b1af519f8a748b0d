package layout_test

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// largeBench is three racks of 40,000 slots and two plates of 62,500.
const largeBench = `format: gridferry plan 1
cell:
  machine: {rated_load: 3, speed: 500, acceleration: 2000}
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.8, grip: {output: 1, level: on, settle: 0.3}, release: {output: 1, level: off, settle: 0.3}}}
  poses: {clear: {at: [250, 100, 300]}}
  keep_out: {}
parts: {p: {mass: 0.1, size: [4, 4, 20]}}
grids:
  rack-1: &rack {frame: base, rows: 200, columns: 200, pitch: [6, 6], first: [200, 0, 20], part: p, filled: all}
  rack-2: {<<: *rack, first: [200, 1400, 20]}
  rack-3: {<<: *rack, first: [200, 2800, 20]}
  plate-1: &plate {frame: base, rows: 250, columns: 250, pitch: [6, 6], first: [1600, 0, 20], part: p}
  plate-2: {<<: *plate, first: [1600, 1800, 20]}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}, clear: clear}
transfers:
`

// transfers are a hundred thousand, each between other grids than the one before.
func transfers(write func(from, to string, n int) string) string {
	var b strings.Builder
	at := func(i, columns int) string {
		return slot.Slot{Row: int32(i / columns), Col: int32(i % columns)}.Label(false)
	}
	for n := range 100_000 {
		from := fmt.Sprintf("rack-%d %s", 1+n%3, at(n*7919/3%40_000, 200))
		b.WriteString(write(from, fmt.Sprintf("plate-%d %s", 1+n%2, at(n/2, 250)), n))
	}
	return b.String()
}

// BenchmarkWorklist reads and resolves a hundred thousand transfers as the lines of a worklist, and as entries of the
// plan. MB-file is the size of what is read, MB-held what stays in memory of it.
func BenchmarkWorklist(b *testing.B) {
	folder := b.TempDir()
	keep := func(name, text string) {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666); err != nil {
			b.Fatal(err)
		}
	}
	list := "from,to,id\n" + transfers(func(from, to string, n int) string { return fmt.Sprintf("%s,%s,S-%06d\n", from, to, n) })
	keep("work.csv", list)
	entries := transfers(func(from, to string, _ int) string { return fmt.Sprintf("  - {from: %s, to: %s}\n", from, to) })
	for name, c := range map[string]struct {
		text string
		size int
	}{"lines": {largeBench + "  - list: work.csv\n", len(list)}, "entries": {largeBench + entries, len(entries)}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			var l *layout.Layout
			var sources diag.Sources
			for b.Loop() {
				var found diag.List
				sources = diag.Sources{}
				l = layout.Resolve(plan.Read(plan.Source{File: "p", Data: []byte(c.text), Dir: folder}, nil, &found, &sources), layout.Options{}, &found)
				if found.HasErrors() || l.Transfers() != 100_000 {
					b.Fatal(found.Sorted())
				}
			}
			runtime.GC()
			runtime.ReadMemStats(&after)
			b.ReportMetric(float64(c.size)/1e6, "MB-file")
			b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/1e6, "MB-held")
			runtime.KeepAlive(l)
			runtime.KeepAlive(sources)
		})
	}
}

// BenchmarkManyGrids resolves a worklist of which each line leads from one grid of a single slot to another one:
// twice as many lines have to take twice as long.
func BenchmarkManyGrids(b *testing.B) {
	for _, n := range []int{2_000, 20_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			head, _, _ := strings.Cut(largeBench, "  rack-1:")
			var grids, list strings.Builder
			list.WriteString("from,to\n")
			for i := range n {
				fmt.Fprintf(&grids, "  a%d: {frame: base, rows: 1, columns: 1, first: [%d, 0, 20], part: p, filled: all}\n", i, 10*i)
				fmt.Fprintf(&grids, "  b%d: {frame: base, rows: 1, columns: 1, first: [%d, 90, 20], part: p}\n", i, 10*i)
				fmt.Fprintf(&list, "a%d,b%d\n", i, i)
			}
			folder := b.TempDir()
			if err := os.WriteFile(filepath.Join(folder, "work.csv"), []byte(list.String()), 0o666); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				var found diag.List
				p := plan.Read(plan.Source{File: "p", Data: []byte(head + grids.String() + "transfers:\n  - list: work.csv\n"), Dir: folder}, nil, &found, &diag.Sources{})
				if l := layout.Resolve(p, layout.Options{}, &found); found.HasErrors() || l.Transfers() != n {
					b.Fatal(found.Sorted())
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "µs/line")
		})
	}
}
