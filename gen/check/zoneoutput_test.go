package check_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// valvePlan is a row of zones, each with the output that works it and the level that holds.
type valvePlan struct {
	output         []int
	holds          []bool
	apart          float64 // zone to zone, mm
	pitch          [2]float64
	parts, single  int // carried at once, and afterwards one by one
	atOnce, second int
}

func drawValves(t *rapid.T) *valvePlan {
	n := rapid.IntRange(2, 4).Draw(t, "zones")
	p := &valvePlan{apart: 50, parts: rapid.IntRange(1, 8).Draw(t, "parts"), single: rapid.IntRange(0, 1).Draw(t, "single")}
	p.atOnce, p.second = rapid.IntRange(1, n).Draw(t, "at once"), rapid.IntRange(1, n).Draw(t, "then at once")
	for range n {
		p.output = append(p.output, rapid.IntRange(1, 3).Draw(t, "output"))
		p.holds = append(p.holds, rapid.SampledFrom([]bool{true, true, true, true, false}).Draw(t, "level"))
	}
	for side := range p.pitch {
		p.pitch[side] = rapid.SampledFrom([]float64{50, 50, 50, 60}).Draw(t, "pitch")
	}
	return p
}

func (p *valvePlan) text() string {
	var b strings.Builder
	b.WriteString("format: gridferry plan 1\ncell:\n  format: gridferry cell 1\n  name: c\n  tools:\n    comb:\n      tcp: {at: [0, 0, 100]}\n      mass: 1\n      zones:\n")
	level := map[bool]string{true: "on", false: "off"}
	for i, output := range p.output {
		fmt.Fprintf(&b, "        z%d: {at: [%g, 0, 0], grip: {output: %d, level: %s, settle: 1}, release: {output: %[3]d, level: %[5]s, settle: 1}}\n",
			i, p.apart*float64(i), output, level[p.holds[i]], level[!p.holds[i]])
	}
	fmt.Fprintf(&b, `  poses: {clear: {at: [0, 300, 400]}}
parts: {p: {mass: 0.1, size: [20, 20, 30]}}
grids:
  a: {frame: base, rows: 1, columns: 12, pitch: [%g, 0], first: [0, 0, 30], part: p, filled: all}
  b: {frame: base, rows: 1, columns: 12, pitch: [%g, 0], first: [0, 600, 30], part: p}
motion: {tool: comb, approach: 60, speed: {travel: 200, near: 40}, clear: clear}
transfers:
  - {from: a, to: b, take: %d, at_once: %d}
`, p.pitch[0], p.pitch[1], p.parts, p.atOnce)
	if p.single > 0 {
		fmt.Fprintf(&b, "  - {from: a, to: b, take: 2, at_once: %d}\n", p.second)
	}
	return b.String()
}

// strays plays the outputs of the list: a zone is closed while its output has the level that
// holds. It reports whether the tool ever moves with a zone that is closed and holds no part, or
// holds one and is not closed. Before anything was written nothing is known of a zone.
func (p *valvePlan) strays(moves move.Seq) bool {
	level, written := map[int]bool{}, map[int]bool{}
	holding := make([]bool, len(p.output))
	for m := range moves {
		switch {
		case m.Kind == move.Grip || m.Kind == move.Release:
			level[m.Signal], written[m.Signal] = m.Level, true
			holding[m.ToolNumber-1] = m.Kind == move.Grip
		case m.Kind.IsMotion():
			for z, output := range p.output {
				if written[output] && (level[output] == p.holds[z]) != holding[z] {
					return true
				}
			}
		}
	}
	return false
}

// TestZonesShareOutputs: there is a finding exactly where an output, as the list writes it, opens
// or closes a zone that does not take or leave a part then.
func TestZonesShareOutputs(t *testing.T) {
	t.Parallel()
	sound, wrong := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		p := drawValves(r)
		var list diag.List
		l := resolve(p.text(), &list)
		if list.HasErrors() {
			r.Fatalf("%v\n%s", list.Sorted(), p.text())
		}
		check.Run(l, expand.Batches(l, expand.Whole), &list)
		found := false
		for _, f := range list.Sorted() {
			found = found || f.Rule == "zones-share-output"
		}
		want := p.strays(expand.Moves(l))
		if found != want {
			r.Fatalf("found is %t, and a zone strays is %t\n%s", found, want, p.text())
		}
		if want {
			wrong++
		} else {
			sound++
		}
	})
	if !t.Failed() && !testing.Short() && (sound == 0 || wrong == 0) { // -short draws a fifth of them
		t.Errorf("%d plans are sound, and %d are not: too few to tell", sound, wrong)
	}
}
