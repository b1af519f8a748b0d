package joints_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/joints"
	"gridferry/gen/move"
)

// fullBench is 10^5 transfers between two dense plates, there and back, with an arm.
func fullBench(k machine) string {
	text := k.bench(rand.New(rand.NewPCG(1, 1)))
	at := strings.Index(text, "parts:")
	return text[:at] + `parts: {peg: {mass: 0.1}}
grids:
  a: {frame: base, rows: 100, columns: 100, pitch: [1.5, 1.5], first: [350, -160, 60], part: peg, filled: all}
  b: {frame: base, rows: 100, columns: 100, pitch: [1.5, 1.5], first: [350, 10, 60], part: peg}
motion: {tool: jaw, approach: 30, speed: {travel: 500, near: 60}, clear: none}
transfers:
` + strings.Repeat("  - {from: a, to: b}\n  - {from: b, to: a}\n", 5)
}

// BenchmarkList is what a move of the list costs without joints, what choosing them costs on top of that, and what
// filling them in does, each in ns for a move.
func BenchmarkList(b *testing.B) {
	for _, k := range machines {
		if k.rare {
			continue
		}
		b.Run(strings.ReplaceAll(k.name, " ", "-"), func(b *testing.B) {
			l := read(b, fullBench(k)).Layout
			moves := expand.Batches(l, expand.Whole)
			n := float64(move.Count(moves).Moves)
			choice := joints.Choose(l, moves)
			spent := map[string]float64{}
			for _, stage := range []struct {
				name string
				run  func()
			}{
				{"list", func() {
					for range moves {
					}
				}},
				{"choose", func() { joints.Choose(l, moves) }},
				{"fill", func() {
					for range choice.Fill(moves) {
					}
				}},
			} {
				b.Run(stage.name, func(b *testing.B) {
					b.ReportAllocs()
					for b.Loop() {
						stage.run()
					}
					each := float64(b.Elapsed().Nanoseconds()) / float64(b.N) / n
					spent[stage.name] = each
					b.ReportMetric(each, "ns/move")
					b.ReportMetric(each/spent["list"], "×list")
				})
			}
		})
	}
}
