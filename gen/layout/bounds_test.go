package layout

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// A selection that takes the last looks is read; one more look, and it is refused at its place.
func TestMostLooks(t *testing.T) {
	for _, c := range []struct {
		left int
		want string
	}{{24, ""}, {23, "7 too-much-choice"}} {
		var list diag.List
		r := &resolver{list: &list, looked: MostLooks - c.left}
		_, ok := r.slotSet(tower(), []plan.Text{{V: "A1:A4", Place: diag.Place{File: "f", Line: 1, Col: 7, Width: 5}}})
		// 1 look for a slot of the rectangle that is there, 8 for all of them
		more := r.look(15, diag.Place{Col: 7})
		got := ""
		for _, f := range list.Sorted() {
			got += fmt.Sprintf("%d %s", f.Place.Col, f.Rule)
		}
		if got != c.want || ok && more != (c.want == "") {
			t.Errorf("with %d looks left: %q, wanted %q", c.left, got, c.want)
		}
	}
}

// Few slots of a large grid are compared in a small set, with the same answer.
func TestFirstSeen(t *testing.T) {
	for _, n := range []int{1, 1000} {
		see := firstSeen(tower(), n)
		if !see(3) || see(3) || !see(4) {
			t.Errorf("%d slots are not told apart", n)
		}
	}
}

// An entry is put in the shortest order while the searches before it have cost no more
// than they may; by row, with a warning, as soon as they have.
func TestMostWork(t *testing.T) {
	text := orderPlan(flat, flat, "", "{from: a, to: b, order: shortest}")
	for over, want := range []string{"", "order-not-searched"} {
		var list diag.List
		r := newResolver(plan.Read(plan.Source{File: "p.yaml", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources)), Options{}, &list)
		r.searched = MostWork + over
		l := r.resolve()
		got := ""
		for _, f := range list.Sorted() {
			got += f.Rule
		}
		byRow := l.TravelOf(l.InOrder(l.Entries[0], ByRow), nil, ByLength).Length
		if is := l.TravelOf(l.Entries[0], nil, ByLength).Length; got != want || (is < byRow) != (over == 0) || (r.searched > MostWork+over) != (over == 0) {
			t.Errorf("%d over: %q, %g mm of %g by row", over, got, is, byRow)
		}
	}
}

const walking = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
parts: {block: {mass: 0.2, size: [20, 20, 20]}}
grids:
  tray: {frame: base, rows: 2, columns: 3, pitch: [40, 40], first: [200, 0, 20], part: block, filled: all}
  rack: {frame: base, rows: 2, columns: 3, pitch: [40, 40], first: [200, 200, 20]}
motion: {tool: jaw, approach: 50, speed: {travel: 300, near: 60}, fly_by: 5}
transfers: [{from: {grid: tray, then: [STEPS]}, to: rack, take: 6}]
`

// foundWith12 is what is found in a plan that may have twelve slots.
func foundWith12(text string) []diag.Finding {
	var list diag.List
	Resolve(plan.Read(plan.Source{File: "p.yaml", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources)), Options{Slots: 12}, &list)
	return list.Sorted()
}

// The gripper's further outputs, pulses and questions are moves, too: three for a pulse, two for an
// input. With them 20 steps are too many.
func TestMostMovesOfGrippers(t *testing.T) {
	for more, want := range map[string]int{"": 0, ", pulse: {7: 0.1}": 43, ", holds: {input: 3, level: on, within: 1}": 42} {
		text := strings.ReplaceAll(walking, "STEPS", "dwell: 1"+strings.Repeat(", dwell: 1", 19))
		text = strings.Replace(text, "grip: {output: 1, level: on", "grip: {output: 1, level: on"+more, 1)
		asked := fmt.Sprintf("%d for each part", want)
		if found := foundWith12(text); (len(found) > 0) != (want > 0) || want > 0 && !strings.Contains(found[0].Message, asked) {
			t.Errorf("%q: got %+v, wanted %s", more, found, asked)
		}
	}
}

// Twelve slots allow 240 moves: six parts with 20 moves and 20 steps each, and not one step more.
func TestMostMoves(t *testing.T) {
	for steps, want := range map[int]string{20: "", 21: "11 [too-many-moves] this entry makes up to 246 moves, 41 for each part, but only 240 are left of the limit"} {
		text := strings.ReplaceAll(walking, "STEPS", "dwell: 1"+strings.Repeat(", dwell: 1", steps-1))
		got := ""
		for _, f := range foundWith12(text) {
			got += fmt.Sprintf("%d [%s] %s", f.Place.Line, f.Rule, f.Message)
		}
		if got != want {
			t.Errorf("%d steps: got %q, wanted %q", steps, got, want)
		}
	}
}

// Stacks of many small boxes are laid while there are looks left, and the one that goes beyond them
// is told once. The first of these takes 1.3 million.
func TestLayingIsBounded(t *testing.T) {
	var grids strings.Builder
	for i := range 4 {
		fmt.Fprintf(&grids, "  s%d: {frame: base, boxes: {layers: 2}, pallet: [%d, 1000], part: box}\n", i, 1200+i%7)
	}
	var list diag.List
	p := plan.Read(plan.Source{File: "x.plan.yaml", Data: []byte(`format: gridferry plan 1
cell: {tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}}
parts: {box: {mass: 1, size: [31, 21, 10]}}
grids:
` + grids.String() + "motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}\ntransfers: [{from: s0, to: s1}]\n"), Dir: "."}, nil, &list, new(diag.Sources))
	r := newResolver(p, Options{}, &list)
	r.laying.Left = 2_000_000
	r.resolve()
	said := 0
	for _, f := range list.Sorted() {
		if f.Rule == "too-much-choice" && strings.Contains(f.Message, "stacks of boxes") {
			said++
		}
	}
	if said != 1 {
		t.Errorf("it is said %d times, wanted once: %v", said, list.Sorted())
	}
}

// A change of tool counts as 20 moves and its steps: six entries of one part, 20 moves each, with five
// changes between them are 220 of the 240 moves that twelve slots allow, and each step of the three
// that fetch the cup is three more.
func TestMostMovesOfChanges(t *testing.T) {
	for steps, want := range map[int]string{6: "", 7: "20 [too-many-moves] the change of tool here makes up to 27 moves, but only 26 are left of the limit"} {
		text := strings.Replace(walking, "  tools: {jaw: {", "  poses: {clear: {at: [200, 100, 300]}}\n  tools:\n    cup: {fetch: [dwell: 1"+strings.Repeat(", dwell: 1", steps-1)+"], tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 2, level: on}, release: {output: 2, level: off}}\n    jaw: {", 1)
		text = strings.Replace(text, "release: {output: 1, level: off}}}\n", "release: {output: 1, level: off}}\n", 1)
		text = strings.Replace(text, "fly_by: 5}", "clear: clear}", 1)
		text, _, _ = strings.Cut(text, "transfers:")
		text += "transfers:\n"
		for _, tool := range []string{"jaw", "cup", "jaw", "cup", "jaw", "cup"} {
			text += "  - {from: tray, to: rack, take: 1, motion: {tool: " + tool + "}}\n"
		}
		got := ""
		for _, f := range foundWith12(text) {
			got += fmt.Sprintf("%d [%s] %s", f.Place.Line, f.Rule, f.Message)
		}
		if got != want {
			t.Errorf("%d steps: got %q, wanted %q", steps, got, want)
		}
	}
}
