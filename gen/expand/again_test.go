package expand

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/golden/simulate"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestMadeAgain: transfers that are made like the one before are as they would be by themselves. In the smallest
// pieces the moves of the one before are never there any more.
func TestMadeAgain(t *testing.T) {
	folder := t.TempDir()
	for seed := range simulate.Plans(t) {
		drawn := simulate.Draw(seed)
		holdAgain(t, drawn.Source(t, folder))
	}
	again := 0
	rapid.Check(t, func(t *rapid.T) {
		one := func(label string, of ...string) string { return rapid.SampledFrom(of).Draw(t, label) }
		// A pose in the middle of the grids' approach points, where some ways lead nowhere, or beside them all.
		pose := func(label string) string {
			return one(label, "[230, 120, 70]", "[230, 120, 20]", "[250, 100, 70]", "[240, 310, 70]", "[300, 0, 300]")
		}
		grid := func(label string) string {
			return one(label+" pattern", "rows: 3, columns: 8, pitch: [10, 20], first: [200, %d, 20]", "rows: 1, columns: 1, layers: 24, pitch: [10, 20], layer_pitch: 5, first: [200, %d, 20]",
				"first: [240, %d, 20], ring: {radius: 40, places: 24, turned: radial}", "first: [240, %d, 20], ring: {radius: 40, places: 24}")
		}
		text := fmt.Sprintf(`format: gridferry plan 1
cell:
  tools:
    jaw: {tcp: {at: [0, 5, 100], rpy: [0, 0, %s]}, mass: 0.8%s, grip: {set: {1: on%s}, settle: 0.4%s}, release: {set: {1: off}, settle: %s}}
  frames: {f: {at: [0, 0, 0], rpy: [0, 0, %s]}}
  poses: {clear: {at: %s}, door: {at: %s}}
parts: {tube: {mass: %s%s}}
grids:
  a: {frame: base, %s, part: tube, filled: all%s}
  b: {frame: %s, %s, part: tube%s}
  # In c some parts lie as their slots say, and behind these some as a tool that was turned put them there.
  c: {frame: base, rows: 2, columns: 4, pitch: [30, 30], first: [200, 500, 20], part: tube, filled: "A1:A4"}
  d: {frame: base, rows: 1, columns: 4, pitch: [30, 30], first: [200, 600, 20], rpy: [180, 0, %s], part: tube, filled: all}
  e: {frame: base, rows: 2, columns: 4, pitch: [30, 30], first: [200, 700, 20], part: tube}
motion: {tool: jaw, approach: %s, speed: {travel: 500, near: 80}, fly_by: %s%s}
transfers:
  - {from: a, to: b%s}
  - {from: d, to: "c B1:B4"}
  - {from: c, to: e}
`, one("turn", "0", "30"), one("centre", "", ", centre_of_gravity: [0, 5, 40], inertia: [0.001, 0.002, 0.003]"), one("more", "", ", 3: on"), one("holds", "", ", holds: {input: 5, level: on, within: 1}"), one("settle", "0", "0.3"),
			one("frame turn", "0", "90"), pose("clear"), pose("door"), one("mass", "1e-9", "0.02"), one("size", "", ", size: [12, 20, 75]"),
			fmt.Sprintf(grid("a"), 100), one("a's entry", "", ", motion: {entry: [door]}"), one("frame", "base", "f"), fmt.Sprintf(grid("b"), 300), one("b's entry", "", ", motion: {entry: [door]}", ", motion: {release_above: 2}"),
			one("d's turn", "0", "30"), one("approach", "50", "1e-7"), one("fly-by", "0", "5"), one("clear", "", ", clear: clear"), one("order", "", ", order: serpentine", ", motion: {optional_stop: after-transfer}"))
		times, right := holdAgain(t, plan.Source{File: "p.yaml", Data: []byte(text), Dir: "."})
		if again += times; !right {
			t.Fatalf("the plan has mistakes:\n%s", text)
		}
	})
	if t.Logf("%d transfers were made again", again); again == 0 {
		t.Error("nothing was compared")
	}
}

// holdAgain holds a plan's list to the one in the smallest pieces. It gives how many more transfers were made again than in those, and
// whether the plan has no mistake.
func holdAgain(t rapid.TB, source plan.Source) (again int, right bool) {
	var list diag.List
	l := layout.Resolve(plan.Read(source, nil, &list, new(diag.Sources)), layout.Options{}, &list)
	if list.HasErrors() {
		return 0, false
	}
	alone, few := inPieces(l, mostHeld+1)
	copied, many := inPieces(l, move.BatchSize)
	if !slices.EqualFunc(alone, copied, alike) {
		t.Fatalf("the list differs where transfers are made again:\n%s", source.Data)
	}
	return many - few, true
}

func inPieces(l *layout.Layout, size int) (all []move.Move, again int) {
	x := newExpander(l, Whole, size, func(piece []move.Move) bool {
		all = append(all, piece...)
		return true
	})
	x.run()
	return all, x.again.times
}

// alike reports whether two moves of two runs are the same.
func alike(a, b move.Move) bool {
	if a.Centre() != b.Centre() || a.Inertia() != b.Inertia() {
		return false
	}
	a.Spread, b.Spread = nil, nil
	return a == b
}
