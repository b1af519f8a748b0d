package layout_test

import (
	"fmt"
	"strings"
	"testing"
)

// TestBehind reports which parts stay in a whole grid for want of room, and is silent where
// the plan asks for a number or for slots.
func TestBehind(t *testing.T) {
	for _, c := range []struct{ transfers, want string }{
		{"{from: a, to: b}", "16: 3 from a, b full"},
		{"{from: b, to: a}", ""}, // nothing moves, which has a finding of its own
		{"{from: a, to: b, take: 4}", ""},
		{"{from: a, to: b, take: 9}", ""},
		{"{from: a A1:A4, to: b}", ""},
		{"{from: a, to: b A1:A4, take: 4}", ""},
		{"{from: a, to: c}", ""},
		{"{from: a, to: b}\n  - {from: a, to: c}", ""},
		{"{from: a, to: b}\n  - {from: a, to: c, take: 2}", "16: 1 from a, b full"},
		{"{from: a, to: b}\n  - {from: a A6, to: c A1}", "16: 2 from a, b full"},
		{"{from: a, to: b}\n  - {from: a, to: d}", "17: 1 from a, d full"},
		{"{from: a, to: b}\n  - {from: a, to: b}", "16: 3 from a, b full"},
		{"{from: a, to: b}\n  - {from: a, to: c}\n  - {from: b, to: a}", ""}, // others stand there now
		{"{chain: [a, b, c]}", "16: 3 from a, b full"},
		{"{chain: [a, spot, b], advance: part}", "16: 3 from a, b full"},
		{"{chain: [a, spot, c], advance: part}", ""},
		{"{from: a, to: spot}", "16: 6 from a, spot full"},
		{"{from: full, to: d}\n  - {from: a, to: b}", "17: 3 from a, b full; 16: 2 from full, d full"},
	} {
		text := bench + `  a: {frame: f, rows: 1, columns: 7, pitch: [30, 0], first: [0, 0, 0], part: p, filled: all}
  b: {frame: f, rows: 1, columns: 4, pitch: [30, 0], first: [0, 50, 0], part: p}
  c: {frame: f, rows: 1, columns: 9, pitch: [30, 0], first: [0, 100, 0], part: p}
  d: {frame: f, rows: 1, columns: 2, pitch: [30, 0], first: [0, 150, 0], part: p}
  spot: {frame: f, rows: 1, columns: 1, first: [0, 200, 0], part: p}
  full: {frame: f, rows: 1, columns: 4, pitch: [30, 0], first: [0, 250, 0], part: p, filled: all}

motion: {tool: jaw, approach: 50, speed: {travel: 100, near: 50}}
transfers:
  - ` + c.transfers + "\n"
		l, list := resolve(text)
		var got []string
		for _, b := range l.Behind {
			got = append(got, fmt.Sprintf("%d: %d from %s, %s full", b.Place.Line, b.Parts, b.From.Name, b.To.Name))
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%s: %q, wanted %q\n%v", c.transfers, got, c.want, list.Sorted())
		}
	}
}
