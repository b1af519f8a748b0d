package check_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// TestAcceptedPlansEndAsTheSimulatorSays: a random plan is accepted exactly
// when an independent simulator can carry it out, and then the slots end as
// the simulator, the moves themselves and "check --slots" say, all three.
func TestAcceptedPlansEndAsTheSimulatorSays(t *testing.T) {
	accepted, refused := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		for range 8 { // one plan in nine is accepted
			if endsAsSimulated(r, randomPlan(r)) {
				accepted++
			} else {
				refused++
			}
		}
	})
	if plans := accepted + refused; accepted*40 < plans || refused*40 < plans {
		t.Errorf("%d plans were accepted and %d refused: the test proves little", accepted, refused)
	}
}

// endsAsSimulated holds one plan to the simulator and reports whether it was
// accepted.
func endsAsSimulated(r *rapid.T, p *toyPlan) bool {
	text := p.text()
	want, wrong := simulate(p)
	var list diag.List
	l := resolve(text, &list)
	slots := new(check.Slots)
	if !list.HasErrors() {
		slots = check.NewSlots(l)
		check.Run(l, expand.Batches(l, expand.Whole), &list, slots)
	}
	if list.HasErrors() != (wrong != nil) {
		r.Fatalf("the simulator says %v, the check says %v\n%s", wrong, errorsOf(&list), text)
	}
	if wrong != nil {
		return false
	}
	compare(r, "check --slots", occupied(slots), want, text)
	compare(r, "the moves", followed(l), want, text)
	return true
}

func compare(r *rapid.T, who string, got, want state, text string) {
	if !maps.Equal(got, want) {
		r.Fatalf("%s ends with %v, the simulator with %v\n%s", who, slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)), text)
	}
}

func errorsOf(list *diag.List) []string {
	var all []string
	for _, f := range list.Sorted() {
		if f.Severity == diag.Error {
			all = append(all, fmt.Sprintf("%s: %s", f.Place, f.Message))
		}
	}
	return all
}

// occupied is the end as the slots that were watched have it.
func occupied(s *check.Slots) state {
	now := state{}
	for _, g := range s.Grids {
		for i := range g.Size() {
			if g.After.Has(i) {
				now[g.Name+" "+g.Label(g.Slot(i))] = true
			}
		}
	}
	return now
}

// followed is the end as the list of moves has it, by nothing but the words
// in its columns.
func followed(l *layout.Layout) state {
	now := state{}
	for _, g := range l.Grids {
		for i := range g.Size() {
			if g.Full.Has(i) {
				now[g.Name+" "+g.Label(g.Slot(i))] = true
			}
		}
	}
	var csv strings.Builder
	if err := move.WriteCSV(&csv, expand.Batches(l, expand.Whole)); err != nil {
		panic(err) // a strings.Builder takes everything
	}
	lines := strings.Split(csv.String(), "\n")
	head := strings.Split(lines[0], ",")
	action, target := slices.Index(head, "action"), slices.Index(head, "target")
	for _, line := range lines[1:] {
		fields := strings.Split(line, ",")
		switch {
		case len(fields) < len(head) || fields[target] == "":
		case feeds(l, fields[target]):
		case fields[action] == "grip":
			delete(now, fields[target])
		case fields[action] == "release":
			now[fields[target]] = true
		}
	}
	return now
}

// feeds reports whether a slot is one of a feeder.
func feeds(l *layout.Layout, target string) bool {
	return slices.ContainsFunc(l.Grids, func(g *layout.Grid) bool { return g.Feeder() && strings.HasPrefix(target, g.Name+" ") })
}

var orders = []string{"by-row", "by-column", "serpentine"}

func randomPlan(r *rapid.T) *toyPlan {
	p := &toyPlan{}
	for i := range rapid.IntRange(2, 4).Draw(r, "grids") {
		p.grids = append(p.grids, randomGrid(r, fmt.Sprintf("g%d", i+1), i == 0))
	}
	for range rapid.IntRange(1, 3).Draw(r, "entries") {
		p.entries = append(p.entries, randomEntry(r, p))
	}
	return p
}

func randomGrid(r *rapid.T, name string, first bool) *toyGrid {
	g := &toyGrid{
		name: name, rows: rapid.IntRange(1, 4).Draw(r, "rows"), columns: rapid.IntRange(1, 5).Draw(r, "columns"),
		layers: rapid.SampledFrom([]int{1, 1, 1, 2, 3}).Draw(r, "layers"), missing: map[string]bool{},
	}
	if rapid.IntRange(0, 5).Draw(r, "single") == 0 {
		g.rows, g.columns, g.layers = 1, 1, 1
	}
	if rapid.IntRange(0, 3).Draw(r, "holes") == 0 && g.layers == 1 {
		hole := g.label(rapid.IntRange(1, g.rows).Draw(r, "hole row"), rapid.IntRange(1, g.columns).Draw(r, "hole column"), 1)
		g.missing[hole] = true
	}
	switch filled := rapid.IntRange(0, 5).Draw(r, "filled"); {
	case first || filled == 0:
		g.filled = []toyRect{g.whole()}
		if len(g.labels(g.whole(), "by-row", false)) == 0 {
			g.missing = map[string]bool{}
		}
	case filled == 1:
		g.filled = []toyRect{randomRect(r, g)}
	}
	if flow := rapid.IntRange(0, 11).Draw(r, "flow"); flow < 2 && g.layers == 1 {
		g.flow, g.filled = []string{"in", "out"}[flow], nil
	}
	if g.filled != nil && written(toyStop{g, g.filled}) != nil {
		g.missing = map[string]bool{}
	}
	return g
}

func randomRect(r *rapid.T, g *toyGrid) toyRect {
	span := func(n int, label string) (int, int) {
		a, b := rapid.IntRange(1, n).Draw(r, label), rapid.IntRange(1, n).Draw(r, label)
		return min(a, b), max(a, b)
	}
	top, bottom := span(g.rows, "row")
	left, right := span(g.columns, "column")
	layer := 0
	if g.layers > 1 {
		layer = max(0, rapid.IntRange(-2, g.layers).Draw(r, "layer"))
	}
	return toyRect{top, left, bottom, right, layer}
}

func randomStop(r *rapid.T, p *toyPlan) toyStop {
	g := rapid.SampledFrom(p.grids).Draw(r, "grid")
	stop := toyStop{grid: g}
	for range max(0, rapid.IntRange(-4, 2).Draw(r, "rectangles")) {
		stop.rects = append(stop.rects, randomRect(r, g))
	}
	return stop
}

func randomEntry(r *rapid.T, p *toyPlan) toyEntry {
	e := toyEntry{
		from: rapid.SampledFrom(orders).Draw(r, "from"), to: rapid.SampledFrom(orders).Draw(r, "to"),
		take:      max(0, rapid.IntRange(-6, 6).Draw(r, "take")),
		advance:   rapid.SampledFrom([]string{"leg", "part"}).Draw(r, "advance"),
		chainForm: rapid.Bool().Draw(r, "chain"),
	}
	stops := rapid.SampledFrom([]int{2, 2, 2, 3, 4}).Draw(r, "stops")
	e.stops = append(e.stops, toyStop{grid: p.grids[0]})
	if rapid.Bool().Draw(r, "elsewhere") {
		e.stops[0] = randomStop(r, p)
	}
	for range stops - 1 {
		e.stops = append(e.stops, randomStop(r, p))
	}
	return e
}
