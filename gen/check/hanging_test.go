package check_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// loadPlan is a tool with zones somewhere beside each other, and entries that carry parts of two
// kinds with them.
type loadPlan struct {
	mass    float64
	centre  [3]float64
	zones   [][3]float64
	parts   [2]float64
	entries []loadEntry
	pitch   [2]float64
}

type loadEntry struct{ kind, take, atOnce int }

func drawLoad(t *rapid.T) *loadPlan {
	tenths := func(what string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, what)) / 10 }
	p := &loadPlan{mass: tenths("mass", 1, 30), centre: [3]float64{tenths("centre", -300, 300), tenths("centre", -300, 300), tenths("centre", 100, 600)}}
	for i := range rapid.IntRange(2, 4).Draw(t, "zones") {
		p.zones = append(p.zones, [3]float64{50 * float64(i), 0, 0})
		if rapid.IntRange(0, 2).Draw(t, "apart") == 0 { // then it has no slot of its own where the first has
			p.zones[i] = [3]float64{tenths("x", -3000, 3000), tenths("y", -3000, 3000), tenths("z", -200, 0)}
		}
	}
	for k := range p.parts {
		p.parts[k] = tenths("part", 1, 20)
		p.pitch[k] = rapid.SampledFrom([]float64{50, 50, 55}).Draw(t, "pitch")
	}
	for range rapid.IntRange(1, 3).Draw(t, "entries") {
		p.entries = append(p.entries, loadEntry{rapid.IntRange(0, 1).Draw(t, "kind"), rapid.IntRange(1, 6).Draw(t, "take"), rapid.IntRange(1, len(p.zones)).Draw(t, "at once")})
	}
	return p
}

func (p *loadPlan) text(limits string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "format: gridferry plan 1\ncell:\n  format: gridferry cell 1\n  name: c\n  machine: {%s}\n  tools:\n    comb:\n      tcp: {at: [10, -5, 30]}\n      mass: %g\n      centre_of_gravity: [%g, %g, %g]\n      zones:\n",
		limits, p.mass, p.centre[0], p.centre[1], p.centre[2])
	for i, z := range p.zones {
		fmt.Fprintf(&b, "        z%d: {at: [%g, %g, %g], grip: {output: %d, level: on, settle: 1}, release: {output: %[5]d, level: off, settle: 1}}\n", i, z[0], z[1], z[2], i+1)
	}
	fmt.Fprintf(&b, "  poses: {clear: {at: [0, 300, 400]}}\nparts: {p0: {mass: %g}, p1: {mass: %g}}\ngrids:\n", p.parts[0], p.parts[1])
	for k := range p.parts {
		fmt.Fprintf(&b, "  from%d: {frame: base, rows: 1, columns: 20, pitch: [50, 0], first: [0, %d, 30], part: p%[1]d, filled: all}\n", k, 300*k)
		fmt.Fprintf(&b, "  to%d: {frame: base, rows: 1, columns: 20, pitch: [%g, 0], first: [0, %d, 30], part: p%[1]d}\n", k, p.pitch[k], 900+300*k)
	}
	b.WriteString("motion: {tool: comb, approach: 60, speed: {travel: 200, near: 40}, clear: clear}\ntransfers:\n")
	for _, e := range p.entries {
		fmt.Fprintf(&b, "  - {from: from%d, to: to%[1]d, take: %d, at_once: %d}\n", e.kind, e.take, e.atOnce)
	}
	return b.String()
}

// most plays the grips and releases of the list and gives the largest mass, in kg, and the largest
// moment, in N·m, that hang on the flange during any motion.
func (p *loadPlan) most(l *layout.Layout) (mass, moment float64) {
	holds := make([]float64, len(p.zones))
	for m := range expand.Moves(l) {
		switch {
		case m.Kind == move.Grip:
			e, _ := l.EntryOf(m.Transfer)
			holds[m.ToolNumber-1] = p.parts[e.Stops[0].Grid.Name[4]-'0']
		case m.Kind == move.Release:
			holds[m.ToolNumber-1] = 0
		case m.Kind.IsMotion():
			kg, lever := p.mass, [3]float64{p.mass * p.centre[0], p.mass * p.centre[1], p.mass * p.centre[2]}
			for z, part := range holds {
				kg += part
				for k, tcp := range [3]float64{10, -5, 30} {
					lever[k] += part * (tcp + p.zones[z][k])
				}
			}
			mass, moment = max(mass, kg), max(moment, 9.80665*math.Sqrt(lever[0]*lever[0]+lever[1]*lever[1]+lever[2]*lever[2])/1000)
		}
	}
	return mass, moment
}

var loadFigures = regexp.MustCompile(`(?:have|with) ([0-9.]+) (?:kg|N·m), but`)

// TestMostOfAllFillings: what the findings about rated load and moment say is the most that
// hangs on the flange in any state of filling that the job goes through, and there is none where
// the machine bears just that.
func TestMostOfAllFillings(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		p := drawLoad(r)
		said := func(limits string) map[string]float64 {
			var list diag.List
			l := resolve(p.text(limits), &list)
			if list.HasErrors() {
				r.Fatalf("%v\n%s", list.Sorted(), p.text(limits))
			}
			check.Run(l, expand.Batches(l, expand.Whole), &list)
			most := map[string]float64{}
			for _, f := range list.Sorted() {
				if m := loadFigures.FindStringSubmatch(f.Message); m != nil {
					v, _ := strconv.ParseFloat(m[1], 64)
					most[f.Rule] = max(most[f.Rule], v)
				}
			}
			return most
		}
		var list diag.List
		mass, moment := p.most(resolve(p.text(""), &list))
		got := said("rated_load: 0.001, moment: 0.0001")
		if math.Abs(got["rated-load-exceeded"]-mass) > 0.0006 || math.Abs(got["moment-exceeded"]-moment) > 0.0006 {
			r.Fatalf("%v, wanted %g kg and %g N·m\n%s", got, mass, moment, p.text(""))
		}
		if got := said(fmt.Sprintf("rated_load: %.9f, moment: %.9f", mass+1e-8, moment+1e-8)); len(got) > 0 {
			r.Fatalf("%v where the machine bears %g kg and %g N·m\n%s", got, mass, moment, p.text(""))
		}
	})
}
