package layout_test

import (
	"fmt"
	"strings"
	"testing"
)

// TestFeeders: how many parts go, and which slots have their turns.
func TestFeeders(t *testing.T) {
	for _, c := range []struct{ transfer, want string }{
		{"{from: belt, to: rack}", "A1>A1 A2>A2 A1>A3 A2>A4 A1>A5"},
		{"{from: belt, to: rack, take: 3}", "A1>A1 A2>A2 A1>A3"},
		{"{from: belt A2, to: rack}", "A2>A1 A2>A2 A2>A3 A2>A4 A2>A5"},
		{"{from: \"belt A2, A1\", to: rack A3:A5}", "A2>A3 A1>A4 A2>A5"},
		{"{from: tray, to: chute}", "A1>A1 A2>A1"},
		{"{from: belt, to: chute, take: 4}", "A1>A1 A2>A1 A1>A1 A2>A1"},
		{"{from: belt, to: rack A1:A2, take: 1}", "A1>A1"},
		{"{chain: [belt, tray A3, chute], advance: part, take: 3}", "A1>A3 A2>A3 A1>A3 A3>A1 A3>A1 A3>A1"},
		{"{chain: [belt, rack, chute]}", "A1>A1 A2>A2 A1>A3 A2>A4 A1>A5 A1>A1 A2>A1 A3>A1 A4>A1 A5>A1"},
		{"{from: belt, to: rack, order: shortest}", "A1>A1 A2>A2 A1>A3 A2>A4 A1>A5"},
		{"{from: gone, to: rack}", ""},
	} {
		text := bench + `  belt: {frame: f, rows: 1, columns: 2, pitch: [30, 0], first: [0, 0, 0], part: p, flow: in}
  chute: {frame: f, rows: 1, columns: 1, first: [0, 50, 0], flow: out}
  rack: {frame: f, rows: 1, columns: 5, pitch: [30, 0], first: [0, 100, 0], part: p}
  tray: {frame: f, rows: 1, columns: 3, pitch: [30, 0], first: [0, 150, 0], part: p, filled: A1:A2}
  gone: {frame: f, rows: 1, columns: 1, first: [0, 200, 0], part: p, flow: in, missing: A1}
motion: {tool: jaw, approach: 50, speed: {travel: 100, near: 50}}
transfers:
  - {from: tray A1, to: rack A5}
  - {from: rack A5, to: tray A1}
  - ` + c.transfer + "\n"
		l, list := resolve(text)
		if list.HasErrors() || len(l.Entries) != 3 {
			t.Errorf("%s: %+v", c.transfer, list.Sorted())
			continue
		}
		var pairs []string
		for _, leg := range l.Entries[2].Legs {
			to := leg.To.Cursor()
			for from := range leg.From.All() {
				at, _ := to.Next()
				pairs = append(pairs, fmt.Sprintf("%s>%s", leg.From.Grid.Label(from), leg.To.Grid.Label(at)))
			}
		}
		if got := strings.Join(pairs, " "); got != c.want {
			t.Errorf("%s: %s, wanted %s", c.transfer, got, c.want)
		}
	}
}
