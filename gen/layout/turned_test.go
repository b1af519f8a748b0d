package layout

import (
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestTurnedRectangles reports which ranges are kept as written the other way round,
// and that they are the same rectangles all the same.
func TestTurnedRectangles(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"A1:C4", ""}, {"A1", ""}, {"A1:A1", ""}, {"C4, A1", ""}, {"A1.1:A4.2", ""},
		{"A4:A1", "A4:A1"}, {"C1:A1", "C1:A1"}, {"C4:A1", "C4:A1"},
		{"A4:C1", "A4:C1"}, {"C1:A4", "C1:A4"}, // one direction is enough
		{"A1.2:A4.1", "A1.2:A4.1 by layer"}, {"A4.2:A1.1", "A4.2:A1.1"}, {"A4.1:A1.2", "A4.1:A1.2"},
		{"B1, A4 : A1, C1:C4, C4.1 ", "A4 : A1"},
		{"A3:A1, C3:C1", "A3:A1 C3:C1"},
	} {
		var list diag.List
		r := &resolver{list: &list}
		written := plan.Text{V: c.text, Place: diag.Place{File: "f", Line: 1, Col: 5, Width: len(c.text)}}
		_, turned, _ := r.selected(tower(), written, c.text)
		var got []string
		for _, one := range turned {
			word := one.Written
			if one.Layer {
				word += " by layer"
			}
			got = append(got, word)
			if at := 5 + strings.Index(c.text, one.Written); one.Place.Col != at {
				t.Errorf("%q: %q stands at column %d, wanted %d", c.text, one.Written, one.Place.Col, at)
			}
			if one.Rect.Lo.Row > one.Rect.Hi.Row || one.Rect.Lo.Col > one.Rect.Hi.Col || one.Rect.Lo.Layer > one.Rect.Hi.Layer {
				t.Errorf("%q: the rectangle is %v", c.text, one.Rect)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q: turned is %q, wanted %q", c.text, got, c.want)
		}
	}
}

// TestTurnedIsBounded keeps no more of a long list than anybody reads.
func TestTurnedIsBounded(t *testing.T) {
	var list diag.List
	r := &resolver{list: &list}
	text := strings.TrimSuffix(strings.Repeat("A4:A1,", 1000), ",")
	if _, turned, _ := r.selected(tower(), plan.Text{V: text}, text); len(turned) != mostFaults {
		t.Errorf("%d are kept, wanted %d", len(turned), mostFaults)
	}
}
