package check

import (
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// TestFilledBy compares who filled a slot, as the entries say, with the list of moves.
func TestFilledBy(t *testing.T) {
	const first = `  - {from: "tray A1:A3", to: "rack A1:A3"}` + "\n"
	for _, c := range []struct{ name, entries string }{
		{"by parts", `  - {chain: [tray, "pile A1.1", "tray A1:B3"], advance: part}` + "\n"},
		{"by legs", `  - {chain: ["tray A1:A3", "rack B3, A2, B1", "tray A3, A1, A2", rack]}` + "\n"},
		{"one after the other", first + `  - {from: rack, to: tray}` + "\n" + first},
	} {
		l := layoutOf(t, strings.Replace(manual.ExamplePlan, first+`  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}`+"\n", c.entries, 1))
		type place struct {
			grid string
			slot slot.Slot
		}
		last, again := map[place]int{}, 0
		for m := range expand.Moves(l) {
			if !m.Puts() {
				continue
			}
			at := place{m.Target.Grid, m.Target.Slot}
			if got, e := filledBy(l, gridOf(l, at.grid), &m); got != last[at] || (e == nil) != (got == 0) {
				t.Errorf("%s: before transfer %d, %v was filled by transfer %d, wanted %d", c.name, m.Transfer, m.Target, got, last[at])
			} else if got > 0 {
				again++
			}
			last[at] = m.Transfer
		}
		if again == 0 {
			t.Errorf("%s: no slot is filled twice", c.name)
		}
	}
}

func gridOf(l *layout.Layout, name string) *layout.Grid {
	for _, g := range l.Grids {
		if g.Name == name {
			return g
		}
	}
	return nil
}

// TestPlaceOnFullNamesWhoFilledIt: the transfer and its line, or that the part stands there
// from the start.
func TestPlaceOnFullNamesWhoFilledIt(t *testing.T) {
	for entry, want := range map[string]string{
		`"rack A3, B1"`: "transfer 3 put a part there",
		`"tray B3, A1"`: "it stands there from the start",
	} {
		l := layoutOf(t, strings.Replace(manual.ExamplePlan, `"pile A1.1, A1.2"`, entry, 1))
		var list diag.List
		Run(l, move.Batched(expand.Moves(l)), &list)
		found := list.Sorted()
		if len(found) != 1 || found[0].Rule != "place-on-full" || len(found[0].Notes) == 0 || found[0].Notes[0].Message != want || found[0].Notes[0].Place.Line == 0 {
			t.Errorf("to %s: found %+v, wanted a note %q", entry, found, want)
		}
	}
}
