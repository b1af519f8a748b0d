package check_test

import (
	"slices"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// BenchmarkMillionMoves lets all rules watch a million moves: two grids of
// 71 500 slots, parts with a size, a tool with a radius, keep-out boxes.
func BenchmarkMillionMoves(b *testing.B) {
	benchmarkRules(b, strings.NewReplacer(
		"rows: 2, columns: 3, pitch: [50, 60]", "rows: 260, columns: 275, pitch: [50, 60]",
		"      mass: 0.8\n", "      mass: 0.8\n      radius: 20\n",
		"reach: {radius: [150, 600], height: [-20, 650]}", "reach: {radius: [0, 100000], height: [-20, 650]}",
		"  keep_out: {}\n", "  keep_out: {post: {from: [-900, -900, 0], to: [-60, -60, 400]}, lamp: {from: [0, 0, 900], to: [9000, 9000, 1000]}}\n",
		"right: {at: [250, -260, 40]}", "right: {at: [250, -16260, 40]}",
		`{from: "tray A1:A3", to: "rack A1:A3"}`, "{from: tray, to: rack}",
		`  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}`+"\n", "",
	).Replace(manual.ExamplePlan))
}

// BenchmarkCloseBy is a plan whose ways lead close by: stacks of parts that touch in
// frames that are turned, keep-out boxes beside the way, a pose at which the tool
// turns, and parts that hang askew between those of staggered rows, where no box
// proves that they pass.
func BenchmarkCloseBy(b *testing.B) {
	benchmarkRules(b, `format: gridferry plan 1
cell:
  machine: {rated_load: 3, speed: 1000, acceleration: 2500, reach: {radius: [50, 20000], height: [-200, 1800]}}
  tools:
    jaw:
      tcp: {at: [0, 0, 120]}
      mass: 0.8
      radius: 14
      grip:    {output: 1, level: on,  settle: 0.4}
      release: {output: 1, level: off, settle: 0.3}
  frames:
    near: {at: [300, 200, 30], rpy: [0.3, -0.2, 20]}
    far:  {at: [-600, 200, 30], rpy: [0, 0.4, 65]}
    side: {at: [300, -1800, 30], rpy: [0, 0, 3]}
  poses:
    clear: {at: [150, 50, 600], rpy: [180, 0, 45]}
  keep_out:
    post:  {from: [-80, -80, 0], to: [80, 80, 300]}
    wall:  {frame: near, from: [-120, -60, 0], to: [900, -35, 110]}
    shelf: {frame: side, from: [-100, -60, 0], to: [1200, -45, 160]}
    lamp:  {from: [-60, 120, 0], to: [40, 220, 250]}
parts:
  block: {mass: 0.15, size: [30, 30, 30]}
grids:
  stack: {frame: near, rows: 20, columns: 20, layers: 6, pitch: [30, 30], layer_pitch: 30, first: [0, 0, 15], part: block, filled: all}
  rack:  {frame: far, rows: 40, columns: 60, pitch: [43, 43], first: [0, 0, 15], rpy: [180, 0, 45], part: block}
  pile:  {frame: side, rows: 20, columns: 20, layers: 6, pitch: [44, 22], stagger: 22, layer_pitch: 30, first: [0, 0, 15], rpy: [180, 0, 45], part: block}
  tower: {frame: near, rows: 2, columns: 2, layers: 8, pitch: [30, 30], layer_pitch: 30, first: [-250, 200, 15], part: block, filled: all}
motion:
  tool: jaw
  approach: 60
  speed: {travel: 250, near: 50}
  fly_by: 10
  clear: clear
transfers:
  - {from: stack, to: rack}
  - {from: rack, to: pile}
`)
}

// BenchmarkArm is parts that go from one rack to another, past two boxes, by an arm of invented dimensions with links, and by a machine
// of which nothing is known.
func BenchmarkArm(b *testing.B) {
	const plan = `format: gridferry plan 1
cell:
  machine: {rated_load: 3, speed: 1000, acceleration: 2500, reach: {radius: [180, 820], height: [-20, 650]}}
ARM  tools:
    jaw:
      tcp: {at: [0, 0, 132]}
      mass: 0.85
      body: {palm: {from: [-40, -16, -132], to: [40, 16, -70]}, left: {from: [-9, -4, -70], to: [-6, 4, 4], open: [-1, 0, 0]}, right: {from: [6, -4, -70], to: [9, 4, 4], open: [1, 0, 0]}}
      grip:    {output: 1, level: on,  settle: 0.4}
      release: {output: 1, level: off, settle: 0.3}
  frames:
    left:  {at: [360, 80, 40]}
    right: {at: [360, -300, 40]}
  poses:
    clear: {at: [420, 0, 320]}
  keep_out: {post: {from: [600, -40, 0], to: [640, 40, 150]}, shelf: {from: [100, -300, 900], to: [500, 300, 940]}}
parts: {peg: {mass: 0.05, size: [10, 10, 30]}}
grids:
  from: {frame: left, rows: 10, columns: 10, pitch: [25, 22], first: [0, 0, 15], part: peg, filled: all}
  to:   {frame: right, rows: 10, columns: 10, pitch: [25, 22], first: [0, 0, 15], part: peg}
motion: {tool: jaw, approach: 60, speed: {travel: 250, near: 50}, fly_by: FLYBY, clear: clear}
transfers:
  - {from: from, to: to}
`
	const anArm = `  arm:
    joints:
      - {name: J1, axis: [0, 0, 1], point: [0, 0, 0],     range: [-170, 170], speed: 220}
      - {name: J2, axis: [0, 1, 0], point: [70, 0, 345],  range: [-110, 130], speed: 200}
      - {name: J3, axis: [0, 1, 0], point: [70, 0, 735],  range: [-190, 75],  speed: 220}
      - {name: J4, axis: [1, 0, 0], point: [70, 0, 775],  range: [-185, 185], speed: 330}
      - {name: J5, axis: [0, 1, 0], point: [480, 0, 775], range: [-120, 120], speed: 330}
      - {name: J6, axis: [1, 0, 0], point: [480, 0, 775], range: [-350, 350], speed: 450}
    flange: {at: [565, 0, 775], rpy: [0, 90, 0]}
    links:
      J1: [{capsule: {from: [0, 0, 90], to: [0, 0, 330], radius: 80}}]
      J2: [{capsule: {from: [70, 0, 345], to: [70, 0, 735], radius: 60}}]
      J3: [{capsule: {from: [70, 0, 775], to: [240, 0, 775], radius: 55}}]
      J4: [{capsule: {from: [240, 0, 775], to: [440, 0, 775], radius: 45}}]
      J5: [{capsule: {from: [480, 0, 775], to: [515, 0, 775], radius: 40}}]
      J6: [{box: {from: [540, -31, 744], to: [565, 31, 806]}}]
`
	for _, k := range []struct{ name, arm, flyBy string }{{"without", "", "15"}, {"stops", anArm, "0"}, {"flies-by", anArm, "15"}} {
		b.Run(k.name, func(b *testing.B) {
			benchmarkRules(b, strings.NewReplacer("ARM", k.arm, "FLYBY", k.flyBy).Replace(plan))
		})
	}
}

// benchmarkRules lets all rules watch a plan in which nothing is wrong, though parts may
// lie turned.
func benchmarkRules(b *testing.B, text string) {
	var list diag.List
	l := resolve(text, &list)
	if list.HasErrors() {
		b.Fatal(errorsOf(&list))
	}
	moves := expand.Batches(l, expand.Whole)
	if l.Arm != nil { // what its joints cost is measured elsewhere
		moves = move.Batched(slices.Values(slices.Collect(move.Single(listed(l)))))
	}
	n := move.Count(moves).Moves
	b.ReportAllocs()
	for b.Loop() {
		check.Run(l, moves, &list)
	}
	if list.HasErrors() {
		b.Fatalf("%v", list.Sorted())
	}
	b.ReportMetric(float64(n), "moves")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/move")
}
