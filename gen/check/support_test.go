package check_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestPartsRestOnParts puts parts on those of another grid. The shares are worked out by
// hand: all bars are 60 × 20 × 20, held at their middle.
func TestPartsRestOnParts(t *testing.T) {
	const plan = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {bar: {mass: 0.1, size: [60, 20, 20]}}
grids:
  rack: {frame: base, rows: 4, columns: 1, pitch: [0, 30], first: [200, -200, 10], part: bar, filled: all}
  low:  {frame: base, rows: 3, columns: 1, pitch: [0, 20], first: [200, 50, 10], part: bar%s}
  high: {frame: base, rows: 1, columns: 1, first: [%s], rpy: [180, 0, %d], part: bar}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers:
  - {from: rack A1, to: high A1}
%s`
	for _, c := range []struct {
		name   string
		filled string // of low
		high   string
		turn   int
		more   string
		want   string // rules, or a part of a message
	}{
		{"on all three, across", ", filled: all", "200, 70, 30", 90, "", "part-turned"},
		{"on one of three, across: a third", ", filled: B1", "200, 70, 30", 90, "", "33 % of its base"},
		{"on two of three, across: two thirds", ", filled: A1:B1", "200, 70, 30", 90, "", "part-turned"},
		{"on nothing, where others would be", "", "200, 70, 30", 90, "", "nothing right under it"},
		{"on nothing, and nothing could be there", "", "200, 250, 30", 0, "", ""},
		{"along one", ", filled: B1", "200, 70, 30", 0, "", ""},
		{"half over its end", ", filled: B1", "230, 70, 30", 0, "", "50 % of its base"}, // as much as ever could be, and too little
		{"a hair over its end", ", filled: B1", "259.5, 70, 30", 0, "", ""},             // beside it, on what is there
		{"a sheet of card between", ", filled: B1", "200, 70, 35", 0, "", ""},
		{"too high to rest on it", "", "200, 70, 35.1", 0, "", ""}, // then nothing is known of what it stands on
		{"taken from under it", ", filled: B1", "200, 70, 30", 0, "  - {from: low B1, to: rack A1}\n", "a part rests on it, in \"high A1\""},
		{"taken after it", ", filled: B1", "200, 70, 30", 0, "  - {from: high A1, to: rack A1}\n  - {from: low B1, to: low C1}\n", ""},
		{"taken from beside it", ", filled: all", "200, 50, 30", 0, "  - {from: low B1, to: rack A1}\n", ""},
	} {
		all := findings(t, fmt.Sprintf(plan, c.filled, c.high, c.turn, c.more))
		var rules, messages []string
		for _, f := range all {
			if f.Rule != "limits-unknown" && f.Rule != "no-clear-pose" {
				rules, messages = append(rules, f.Rule), append(messages, f.Message+" ["+f.Rule+"]")
			}
		}
		slices.Sort(rules)
		said := strings.Join(messages, "; ")
		switch {
		case strings.Contains(c.want, " "):
			if !strings.Contains(said, c.want) || strings.Contains(said, "part-hits-part") {
				t.Errorf("%s: %q, wanted %q", c.name, said, c.want)
			}
		case strings.Join(rules, " ") != c.want:
			t.Errorf("%s: %q, wanted %q", c.name, said, c.want)
		}
	}
}

// TestLayersRestOnEachOther: a layer of one grid may stand on a layer of another one, and
// not on nothing.
func TestLayersRestOnEachOther(t *testing.T) {
	const plan = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {block: {mass: 0.1, size: [20, 20, 20]}}
grids:
  rack: {frame: base, rows: 2, columns: 4, pitch: [30, 30], first: [200, -200, 10], part: block, filled: all}
  odd:  {frame: base, rows: 1, columns: 1, layers: 2, layer_pitch: %d, first: [200, 50, 10], part: block}
  even: {frame: base, rows: 1, columns: 1, layers: 2, layer_pitch: 40, first: [200, 50, 30], part: block}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers:
%s`
	entry := func(to ...string) (text string) {
		for i, slot := range to {
			text += fmt.Sprintf("  - {from: rack A%d, to: %s}\n", i+1, slot)
		}
		return text
	}
	for _, c := range []struct {
		pitch   int
		entries string
		want    string
	}{
		{40, entry("odd A1.1", "even A1.1", "odd A1.2", "even A1.2"), ""},
		{40, entry("odd A1.1", "even A1.1", "even A1.2"), "no-support"},
		{40, entry("odd A1.1", "odd A1.2"), "no-support"},
		{20, entry("odd A1.1", "odd A1.2"), ""},
		{25, entry("odd A1.1", "odd A1.2"), ""},
		{26, entry("odd A1.1", "odd A1.2"), "no-support"},
	} {
		var rules []string
		for _, f := range findings(t, fmt.Sprintf(plan, c.pitch, c.entries)) {
			if f.Rule != "limits-unknown" && f.Rule != "no-clear-pose" {
				rules = append(rules, f.Rule)
			}
		}
		if got := strings.Join(rules, " "); got != c.want {
			t.Errorf("layers %d apart, then\n%s: %q, wanted %q", c.pitch, c.entries, got, c.want)
		}
	}
}
