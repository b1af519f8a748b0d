package layout

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// tower is a grid of 3 rows, 4 columns and 2 layers without slot B2 of both.
func tower() *Grid {
	g := &Grid{Name: "tower", Extent: pattern.Even(3, 4, 2), Missing: NewSlots(24)}
	g.Missing.Add(g.Index(slot.Slot{Row: 1, Col: 1}))
	g.Missing.Add(g.Index(slot.Slot{Row: 1, Col: 1, Layer: 1}))
	return g
}

// read reads a selection and gives its slots, in the order in which a source of
// by-row leaves, or the columns and rules of what is wrong.
func read(g *Grid, text string) (slots []string, faults []string) {
	var list diag.List
	r := &resolver{list: &list}
	written := plan.Text{V: text, Place: diag.Place{File: "f", Line: 1, Col: 1, Width: len([]rune(text))}}
	rects, ok := r.selection(g, written, text)
	if ok != !list.HasErrors() {
		return nil, []string{fmt.Sprintf("says %v with %d findings", ok, list.Len())}
	}
	for _, f := range list.Sorted() {
		faults = append(faults, fmt.Sprintf("%d %s", f.Place.Col, f.Rule))
	}
	if ok {
		each(g, rects, ByRow, true, func(s slot.Slot) bool { slots = append(slots, g.Label(s)); return true })
	}
	return slots, faults
}

func TestSelections(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"A1", "A1.2 A1.1"}, // without a layer: all of them
		{"A1.1", "A1.1"},
		{"A1.1:A2.1", "A1.1 A2.1"},
		{"A1.2:A2.1", "A1.2 A2.2 A1.1 A2.1"}, // corners in any order
		{"B3:A2", "A2.2 A3.2 B3.2 A2.1 A3.1 B3.1"},
		{"a01 , c4", "A1.2 A1.1 C4.2 C4.1"},
		{"C1.1,A1.1", "C1.1 A1.1"}, // the list's own order
		{" B1 : B3 ", "B1.2 B3.2 B1.1 B3.1"},
		{"B", "B1.2 B3.2 B4.2 B1.1 B3.1 B4.1"}, // whole rows
		{"C, A1:A2", "C1.2 C2.2 C3.2 C4.2 C1.1 C2.1 C3.1 C4.1 A1.2 A2.2 A1.1 A2.1"},
	} {
		got, faults := read(tower(), c.text)
		if faults != nil || strings.Join(got, " ") != c.want {
			t.Errorf("%q gives %v %v, wanted %s", c.text, got, faults, c.want)
		}
	}
}

// A rectangle over rows of unequal length has the slots that there are, in every order.
func TestSelectionsOverUnequalRows(t *testing.T) {
	g := &Grid{Name: "ring", Extent: pattern.Uneven([]int{3, 1, 4}, 1)}
	for _, c := range []struct {
		text  string
		order Order
		want  string
	}{
		{"A1:C4", ByRow, "A1 A2 A3 B1 C1 C2 C3 C4"},
		{"A1:C3", ByRow, "A1 A2 A3 B1 C1 C2 C3"},
		{"A1:C3", ByColumn, "A1 B1 C1 A2 C2 A3 C3"},
		{"A2:C3", Serpentine, "A2 A3 C2 C3"},
		{"C4:B1", Serpentine, "B1 C4 C3 C2 C1"},
		{"B", ByRow, "B1"},
		{"A : B", ByRow, "A1 A2 A3 B1"},
		{"C:B", ByColumn, "B1 C1 C2 C3 C4"},
	} {
		var list diag.List
		r := &resolver{list: &list}
		rects, ok := r.selection(g, plan.Text{V: c.text, Place: diag.Place{File: "f", Line: 1, Col: 1, Width: len(c.text)}}, c.text)
		var slots []string
		if ok {
			each(g, rects, c.order, false, func(s slot.Slot) bool { slots = append(slots, g.Label(s)); return true })
			if n := count(g, rects); n != len(slots) {
				t.Errorf("%q counts %d slots, wanted %d", c.text, n, len(slots))
			}
		}
		if got := strings.Join(slots, " "); got != c.want {
			t.Errorf("%q gives %s, wanted %s", c.text, got, c.want)
		}
	}
	if _, faults := read(g, "B1:B2"); !slices.Equal(faults, []string{"1 slot-outside-grid"}) {
		t.Errorf("a slot behind the end of its row gives %v", faults)
	}
}

func TestSelectionsThatAreRefused(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"D1", "1 slot-outside-grid"}, {"A5", "1 slot-outside-grid"}, {"A1.3", "1 slot-outside-grid"},
		{"A1, D1, A1.9", "5 slot-outside-grid; 9 slot-outside-grid"},
		{"B2.1", "1 slot-missing"}, {"B2", "1 slot-missing"}, {"B2:B2", "1 slot-missing"},
		{"A1, A1.2", "1 slot-repeated"}, {"A1:B4, B3", "1 slot-repeated"},
		{"", "1 bad-selection"}, {"A1,,A2", "4 bad-selection"}, {"a", "1 bad-selection"}, {"A:B1", "1 bad-selection"}, {"A.1", "1 bad-selection"}, {"AAAA", "1 bad-selection"}, {"D", "1 slot-outside-grid"}, {"A:D", "1 slot-outside-grid"}, {"1A", "1 bad-selection"},
		{"A1:", "1 bad-selection"}, {":A1", "1 bad-selection"}, {"A1:A2:A3", "1 bad-selection"}, {"A1.1:A2", "1 bad-selection"},
		{"A-1", "1 bad-selection"}, {"A1.", "1 bad-selection"}, {"A1.0", "1 bad-selection"}, {"A0", "1 bad-selection"},
		{"AAAA1", "1 bad-selection"}, {"A1234567890", "1 bad-selection"}, {"Ä1", "1 bad-selection"}, {"A１", "1 bad-selection"},
	} {
		got, faults := read(tower(), c.text)
		if got != nil || strings.Join(faults, "; ") != c.want {
			t.Errorf("%q gives %v %v, wanted %s", c.text, got, faults, c.want)
		}
	}
}

// oneSlot is a label as plan/FORMAT.md describes it.
var oneSlot = regexp.MustCompile(`^[A-Za-z]{1,3}0*[1-9][0-9]*(\.0*[1-9][0-9]*)?$`)

// FuzzSelection reads any text as a selection: it is taken or refused as a plain
// reading of the rules says, and what comes out is in the grid, there, and named
// once.
func FuzzSelection(f *testing.F) {
	for _, text := range []string{"A1", "A1:C4", "A1.1:B2.2", "A1, C2", "A", "B:C, A1", "b3 : a1,C1", "A1:A1,A2.1", ",", "A1:\x00", "ZZZ999999999.999999999", " \t\nA1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		g := tower()
		got, faults := read(g, text)
		if (got == nil) == (faults == nil) {
			t.Errorf("%q gives slots %v and faults %v, wanted one of the two", text, got, faults)
		}
		seen := map[string]bool{}
		for _, label := range got {
			s, ok := slot.Parse(label)
			if !ok || !g.Has(s.Slot) || seen[label] {
				t.Errorf("%q gives %q, which is outside, missing or there twice", text, label)
			}
			seen[label] = true
		}
		if got != nil && !wellFormed(text) {
			t.Errorf("%q is taken, though it is not of the form", text)
		}
	})
}

// wholeRow is a row named as plan/FORMAT.md describes it.
var wholeRow = regexp.MustCompile(`^[A-Z]{1,3}$`)

// wellFormed reports whether a text is a list of labels, rows, and ranges of either.
func wellFormed(text string) bool {
	for _, item := range strings.Split(text, ",") {
		corners := strings.Split(item, ":")
		if len(corners) > 2 {
			return false
		}
		all := func(form *regexp.Regexp) bool {
			return !slices.ContainsFunc(corners, func(s string) bool { return !form.MatchString(strings.TrimSpace(s)) })
		}
		if !all(oneSlot) && !all(wholeRow) {
			return false
		}
	}
	return true
}
