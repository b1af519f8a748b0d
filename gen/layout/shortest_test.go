package layout

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// resolved is the layout of a plan's text, with what was found on the way.
func resolved(t *testing.T, text string) (*Layout, []diag.Finding) {
	t.Helper()
	var list diag.List
	p := plan.Read(plan.Source{File: "test", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources))
	l := Resolve(p, Options{}, &list)
	if list.HasErrors() {
		t.Fatalf("%v\n%s", list.Sorted(), text)
	}
	return l, list.Sorted()
}

// orderPlan is a plan of two grids, one of them full, with an entry and more of motion.
func orderPlan(source, goal, motion, entry string) string {
	return fmt.Sprintf(`format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {high: {at: [300, 0, 400]}}
parts: {p: {mass: 0.1, size: [10, 10, 10]}}
grids:
  a: {frame: base, %s, first: [200, -100, 20], part: p, filled: all}
  b: {frame: base, %s, first: [260, 100, 20], part: p}
motion: {tool: jaw, approach: 40, speed: {travel: 200, near: 40}%s}
transfers:
  - %s
`, source, goal, motion, entry)
}

const flat = "rows: 3, columns: 5, pitch: [40, 30]"

func slotsIn(s *Sequence) []slot.Slot {
	var all []slot.Slot
	for at := range s.All() {
		all = append(all, at)
	}
	return all
}

func indexes(s *Sequence) map[int]bool {
	set := map[int]bool{}
	for at := range s.All() {
		set[s.Grid.Index(at)] = true
	}
	return set
}

// The shortest order goes through the same slots as by row, on a way that is no
// longer than by any of the orders that have a name.
func TestShortestKeepsTheSlots(t *testing.T) {
	entry := "{from: a A1:C4, to: b, order: %s, take: 11}"
	byRow, _ := resolved(t, orderPlan(flat, flat, "", fmt.Sprintf(entry, "by-row")))
	short, _ := resolved(t, orderPlan(flat, flat, "", fmt.Sprintf(entry, "shortest")))
	e := short.Entries[0]
	for i, s := range []*Sequence{&e.Legs[0].From, &e.Legs[0].To} {
		was := &byRow.Entries[0].Legs[0].From
		if i == 1 {
			was = &byRow.Entries[0].Legs[0].To
		}
		if got, want := indexes(s), indexes(was); fmt.Sprint(got) != fmt.Sprint(want) || s.Len != 11 {
			t.Errorf("side %d: slots %v, wanted %v", i, got, want)
		}
	}
	least := short.TravelOf(e, nil, ByLength).Length
	for _, o := range []Order{ByRow, ByColumn, Serpentine} {
		if l := short.TravelOf(short.InOrder(e, o), nil, ByLength).Length; l < least {
			t.Errorf("order %d: %g mm, but the shortest has %g", o, l, least)
		}
	}
	if l := byRow.TravelOf(byRow.Entries[0], nil, ByLength).Length; l <= least {
		t.Errorf("by row %g mm, shortest %g: wanted something saved", l, least)
	}
}

// Layers are left from the top one down and filled from the bottom one up,
// however the slots were written.
func TestShortestKeepsLayers(t *testing.T) {
	high := flat + ", layers: 3, layer_pitch: 10"
	l, _ := resolved(t, orderPlan(high, high, "", `{from: "a A1.1:C1.3, B2, A3.1:C3.2", to: b, order: shortest}`))
	e := l.Entries[0]
	last := int32(99)
	for _, at := range slotsIn(&e.Legs[0].From) {
		if at.Layer > last {
			t.Fatalf("layer %d is taken from after layer %d", at.Layer+1, last+1)
		}
		last = at.Layer
	}
	last = 0
	for _, at := range slotsIn(&e.Legs[0].To) {
		if at.Layer < last {
			t.Fatalf("layer %d is filled after layer %d", at.Layer+1, last+1)
		}
		last = at.Layer
	}
	if e.Parts != 18 {
		t.Errorf("%d parts, wanted 18", e.Parts)
	}
}

// One side may be held while the other is put in order; that is an assignment.
func TestShortestOnOneSide(t *testing.T) {
	text := orderPlan(flat, flat, "", "{from: a, to: b, order: {from: serpentine, to: shortest}}")
	l, _ := resolved(t, text)
	held, _ := resolved(t, strings.Replace(text, "to: shortest", "to: serpentine", 1))
	e, h := l.Entries[0], held.Entries[0]
	if got, want := slotsIn(&e.Legs[0].From), slotsIn(&h.Legs[0].From); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the held side goes %v, wanted %v", got, want)
	}
	if now, was := l.TravelOf(e, nil, ByLength).Length, held.TravelOf(h, nil, ByLength).Length; now >= was {
		t.Errorf("%g mm, wanted less than %g", now, was)
	}
	if _, travel := l.Shortened(e, nil, Sides{To: true}, ByLength, false); !travel.Exact {
		t.Error("an assignment is not called exact")
	}
}

// A chain by legs: each leg has an order of its own, over the same middle slots.
func TestShortestOfAChainByLegs(t *testing.T) {
	text := orderPlan(flat, flat, "", "{chain: [a A1:B3, b A1:B3, a C1:C5], take: 5, order: shortest}")
	l, _ := resolved(t, strings.Replace(text, "filled: all", `filled: "A1:B3"`, 1))
	e := l.Entries[0]
	if got, want := indexes(&e.Legs[1].From), indexes(&e.Legs[0].To); fmt.Sprint(got) != fmt.Sprint(want) || len(got) != 5 {
		t.Errorf("the second leg leaves from %v, the first ended at %v", got, want)
	}
}

// A chain by parts: a part leaves from where it was put.
func TestShortestOfAChainByParts(t *testing.T) {
	text := orderPlan(flat, flat, "", "{chain: [a A1:B3, b, a C1:C5], take: 5, advance: part, order: shortest}")
	l, _ := resolved(t, strings.Replace(text, "filled: all", `filled: "A1:B3"`, 1))
	e := l.Entries[0]
	if got, want := slotsIn(&e.Legs[1].From), slotsIn(&e.Legs[0].To); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("parts leave from %v, but were put on %v", got, want)
	}
}

// A second entry's way begins where the first one's ends.
func TestShortestBeginsWhereTheArmIs(t *testing.T) {
	two := "{from: a A1:A2, to: b A1:A2}\n  - {from: a, to: b, order: shortest}"
	l, _ := resolved(t, orderPlan(flat, flat, "", two))
	from := l.EndOf(l.Entries[0])
	if p := l.ArmBefore(1, nil); p == nil || *p != *from {
		t.Fatalf("the arm stands at %v, wanted %v", p, from)
	}
	again, travel := l.Shortened(l.Entries[1], from, Sides{true, true}, ByLength, true)
	if got := l.TravelOf(l.Entries[1], from, ByLength).Length; got != travel.Length {
		t.Errorf("%g mm in the plan, %g found again", got, travel.Length)
	}
	if travel.Least <= 0 || travel.Least > travel.Length {
		t.Errorf("no order is below %g, but one of %g is found", travel.Least, travel.Length)
	}
	if fmt.Sprint(slotsIn(&again.Legs[0].From)) != fmt.Sprint(slotsIn(&l.Entries[1].Legs[0].From)) {
		t.Error("the same question has two answers")
	}
}

// Where an order cannot help it is by row, and that is said once.
func TestShortestThatIsNotSearched(t *testing.T) {
	for _, c := range []struct {
		name, motion, entry string
		want                Kept
	}{
		{"over a clear pose", ", clear: high", "{from: a, to: b, order: shortest}", ByClear},
		{"within its own slots", "", "{from: a C2, to: b A1}\n  - {from: \"a A1:A3, C1\", to: \"a C2, A1:A3\", order: shortest}", ByOwnSlots},
		{"a single part", "", "{from: a A1, to: b, order: shortest}", ByNoFreeSide},
	} {
		l, found := resolved(t, orderPlan(flat, flat, c.motion, c.entry))
		e := l.Entries[len(l.Entries)-1]
		if why := l.Keeps(e, 0); why != c.want {
			t.Errorf("%s: kept because of %q, wanted %q", c.name, why, c.want)
		}
		wanted := 1
		if c.want == ByNoFreeSide {
			wanted = 0
		}
		if len(found) != wanted {
			t.Errorf("%s: %d findings, wanted %d: %v", c.name, len(found), wanted, found)
		}
		if got, want := slotsIn(&e.Legs[0].From)[0], (slot.Slot{}); got != want {
			t.Errorf("%s: begins at %v, wanted %v", c.name, got, want)
		}
	}
}
