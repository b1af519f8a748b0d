package check_test

import (
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// BenchmarkMillionMoves lets all rules watch a million moves: two grids of
// 71 500 slots, parts with a size, a tool with a radius, keep-out boxes.
func BenchmarkMillionMoves(b *testing.B) {
	text := strings.NewReplacer(
		"rows: 2, columns: 3, pitch: [50, 60]", "rows: 260, columns: 275, pitch: [50, 60]",
		"      mass: 0.8\n", "      mass: 0.8\n      radius: 20\n",
		"reach: {radius: [150, 600], height: [-20, 650]}", "reach: {radius: [0, 100000], height: [-20, 650]}",
		"  keep_out: {}\n", "  keep_out: {post: {from: [-900, -900, 0], to: [-60, -60, 400]}, lamp: {from: [0, 0, 900], to: [9000, 9000, 1000]}}\n",
		"right: {at: [250, -260, 40]}", "right: {at: [250, -16260, 40]}",
		`{from: "tray A1:A3", to: "rack A1:A3"}`, "{from: tray, to: rack}",
		`  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}`+"\n", "",
	).Replace(check.ExamplePlan)
	var list diag.List
	l := resolve(text, &list)
	if list.HasErrors() {
		b.Fatal(errorsOf(&list))
	}
	moves := move.Count(expand.Batches(l, expand.Whole)).Moves
	b.ReportAllocs()
	for b.Loop() {
		check.Run(l, expand.Moves(l), &list)
	}
	if list.Len() > 0 {
		b.Fatalf("%v", list.Sorted())
	}
	b.ReportMetric(float64(moves), "moves")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(moves), "ns/move")
}
