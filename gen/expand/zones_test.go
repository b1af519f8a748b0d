package expand_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// A simulator of groups by the words of plan/FORMAT.md, with its own geometry: tools that point
// straight down, so that a zone x, y off the TCP stands x·cos + y·sin, x·sin − y·cos off it in the
// base, where the tool is turned by that yaw. It knows a clear pose, holds and settling times.

type groupPlan struct {
	zones       [][3]float64 // x, y, and the turn about the tool's axis, degrees
	settle      []float64
	holds       bool
	mass        float64 // of a part; the tool has 1 kg, its centre 40 mm below the flange
	columns     [2]int
	pitch       [2]float64
	yaw         [2]float64 // of the tool at the slots of the two grids, degrees
	atOnce, len int
	optional    bool
}

func drawGroups(t *rapid.T) *groupPlan {
	pick := func(what string, of ...float64) float64 { return rapid.SampledFrom(of).Draw(t, what) }
	p := &groupPlan{holds: rapid.Bool().Draw(t, "holds"), optional: rapid.Bool().Draw(t, "stops"), mass: pick("mass", 0.2, 0.35)}
	apart := pick("apart", 30, 40)
	n := rapid.IntRange(2, 4).Draw(t, "zones")
	for i := range n {
		p.zones = append(p.zones, [3]float64{apart * float64(i), pick("aside", 0, 0, 0, 0.3, 0.6), pick("turned", 0, 0, 0, 0.4, 0.6)})
		p.settle = append(p.settle, pick("settle", 0, 0.1, 0.3))
	}
	p.zones[0] = [3]float64{0, 0, 0}
	p.atOnce = rapid.IntRange(1, n).Draw(t, "at once")
	p.len = rapid.IntRange(1, 7).Draw(t, "parts")
	for side := range 2 {
		p.columns[side] = rapid.IntRange(2, 4).Draw(t, "columns")
		p.pitch[side] = apart + pick("off", 0, 0, 0.1, 0.2, 0.4, 9)
		p.yaw[side] = pick("yaw", 0, 0, 90)
	}
	return p
}

func (p *groupPlan) text() string {
	var b strings.Builder
	b.WriteString("format: gridferry plan 1\ncell:\n  format: gridferry cell 1\n  name: c\n  tools:\n    comb:\n      tcp: {at: [0, 0, 100]}\n      mass: 1\n      centre_of_gravity: [0, 0, 40]\n      zones:\n")
	for i, z := range p.zones {
		holds := ""
		if p.holds {
			holds = fmt.Sprintf(", holds: {input: %d, level: on, within: 1}", 50+i)
		}
		fmt.Fprintf(&b, "        z%d: {at: [%g, %g, 0], rpy: [0, 0, %g], grip: {output: %d, level: on, settle: %g%s}, release: {output: %d, level: off, settle: %g}}\n",
			i, z[0], z[1], z[2], i+1, p.settle[i], holds, i+1, p.settle[i])
	}
	b.WriteString("  poses: {clear: {at: [0, 300, 400]}}\nparts:\n  p: {mass: ")
	fmt.Fprintf(&b, "%g, size: [20, 20, 30]}\ngrids:\n", p.mass)
	for side, name := range []string{"a", "b"} {
		fmt.Fprintf(&b, "  %s: {frame: base, rows: 4, columns: %d, pitch: [%g, %g], first: [100, %d, 30], rpy: [180, 0, %g], part: p%s}\n",
			name, p.columns[side], p.pitch[side], p.pitch[side], 600*side, p.yaw[side], []string{", filled: all", ""}[side])
	}
	stops := ""
	if p.optional {
		stops = ", optional_stop: after-transfer"
	}
	fmt.Fprintf(&b, "motion: {tool: comb, approach: 60, speed: {travel: 200, near: 40}, clear: clear%s}\ntransfers:\n  - {from: a, to: b, take: %d, at_once: %d}\n", stops, p.len, p.atOnce)
	return b.String()
}

// play is the list as the page has it, a line a move, without the moves that select.
func (p *groupPlan) play() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	carried := map[int]bool{} // zones with a part
	opened := map[int]bool{}
	load := func() string {
		kg, x, y, z := 1.0, 0.0, 0.0, 40.0
		for i := range p.zones { // the middle of a part of 30 mm lies at the TCP, half its height from its bottom
			if carried[i] {
				kg, x, y, z = kg+p.mass, x+p.mass*p.zones[i][0], y+p.mass*p.zones[i][1], z+p.mass*100
			}
		}
		return hanging(kg, x/kg, y/kg, z/kg)
	}
	slot := func(side, k int) (label string, x, y float64) {
		row, col := k/p.columns[side], k%p.columns[side]
		return fmt.Sprintf("%s %c%d", []string{"a", "b"}[side], 'A'+row, col+1), 100 + float64(col)*p.pitch[side], float64(600*side) + float64(row)*p.pitch[side]
	}
	oneDescent := func(side int, slots []int) bool {
		_, x0, y0 := slot(side, slots[0])
		sin, cos := math.Sincos(p.yaw[side] * math.Pi / 180)
		for i := range slots {
			_, x, y := slot(side, slots[i])
			zx, zy := x0+p.zones[i][0]*cos+p.zones[i][1]*sin, y0+p.zones[i][0]*sin-p.zones[i][1]*cos
			if math.Hypot(x-zx, y-zy) > 0.5 || p.zones[i][2] > 0.5 {
				return false
			}
		}
		return true
	}
	working := min(p.atOnce, p.len)
	ask := func(n, zone int, level string) {
		if p.holds {
			say("%d await %d %s", n, 50+zone, level)
		}
	}
	wait := func(n int, zones []int) {
		longest := 0.0
		for _, z := range zones {
			longest = max(longest, p.settle[z])
		}
		if longest > 0 {
			say("%d dwell %g", n, longest)
		}
	}
	for z := range working {
		ask(0, z, "off")
	}
	above := [3]float64{math.NaN()} // the flange over a slot: x, y, and how it is turned
	clear := func(n int) {
		say("%d travel clear z0 %s", n, load())
		above[0] = math.NaN()
	}
	flange := func(side, zone int, x, y float64) [3]float64 {
		z := p.zones[zone]
		turn := p.yaw[side] + z[2]
		sin, cos := math.Sincos(turn * math.Pi / 180)
		return [3]float64{x - z[0]*cos - z[1]*sin, y - z[0]*sin + z[1]*cos, turn}
	}
	visit := func(side int, first int, zones, slots []int) {
		label, x, y := slot(side, slots[0])
		to := flange(side, zones[0], x, y)
		stands := math.Hypot(math.Hypot(to[0]-above[0], to[1]-above[1]), to[2]-above[2]) < 1e-6
		if !stands {
			clear(first)
		}
		if side == 0 && !opened[0] {
			for z := range working {
				say("%d release  z%d", first, z)
				opened[z] = true
			}
			var all []int
			for z := range working {
				all = append(all, z)
			}
			wait(first, all)
		}
		if !stands {
			say("%d travel %s approach z%d %s", first, label, zones[0], load())
		}
		if side == 1 {
			for _, z := range zones {
				ask(first, z, "on")
			}
		}
		say("%d straight %s z%d %s", first, label, zones[0], load())
		for i, z := range zones {
			at, _, _ := slot(side, slots[i])
			say("%d %s %s z%d", first, []string{"grip", "release"}[side], at, z)
			carried[z] = side == 0
		}
		wait(first, zones)
		if side == 0 {
			for _, z := range zones {
				ask(first, z, "on")
			}
		}
		say("%d straight %s approach z%d %s", first, label, zones[0], load())
		above = to
	}
	for done := 0; done < p.len; done += p.atOnce {
		var zones, slots []int
		for i := range min(p.atOnce, p.len-done) {
			zones, slots = append(zones, i), append(slots, done+i)
		}
		for side := range 2 {
			if oneDescent(side, slots) {
				visit(side, done+1, zones, slots)
				continue
			}
			for i := range zones {
				visit(side, done+1+i, zones[i:i+1], slots[i:i+1])
			}
		}
		if p.optional {
			say("%d note optional stop after transfer %d", done+len(zones), done+len(zones))
		}
	}
	clear(0)
	return out
}

// hanging is a load to a ten-thousandth, and off what lies halfway between two of them, so that
// what differs by rounding alone reads the same.
func hanging(kg, x, y, z float64) string {
	const aside = 3.7e-7
	return fmt.Sprintf("%.4f kg at %.4f, %.4f, %.4f", kg+aside, x+aside, y+aside, z+aside)
}

// told is a move as the simulator has it; "" for a select.
func told(m *move.Move) string {
	zone := strings.TrimPrefix(m.Tool, "comb ")
	load := hanging(m.Load, m.Centre.X, m.Centre.Y, m.Centre.Z)
	switch m.Kind {
	case move.Travel, move.Straight:
		return fmt.Sprintf("%d %s %s %s %s", m.Transfer, m.Kind, m.Target, zone, load)
	case move.Grip, move.Release:
		return fmt.Sprintf("%d %s %s %s", m.Transfer, m.Kind, m.Target, zone)
	case move.Await:
		return fmt.Sprintf("%d await %d %s", m.Transfer, m.Signal, map[bool]string{true: "on", false: "off"}[m.Level])
	case move.Dwell:
		return fmt.Sprintf("%d dwell %g", m.Transfer, m.Seconds)
	case move.Note:
		return fmt.Sprintf("%d note %s", m.Transfer, m.Text)
	case move.Select, move.Set:
	}
	return ""
}

// TestGroupsAgainstSimulator: random tools with zones between random grids, where the group is
// handled in one descent and where it is not, by a small simulator of its own. The flange stays
// where it is while another zone is selected.
func TestGroupsAgainstSimulator(t *testing.T) {
	descents, single := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawGroups(t)
		text := p.text()
		l := laidOut(t, text)
		want, k := p.play(), 0
		var at geom.Pose // of the flange
		known := false
		for m := range expand.Moves(l) {
			if m.Zones > 1 {
				descents++
			} else if m.Role == move.DownSource {
				single++
			}
			tool := &geom.Pose{}
			if m.ToolNumber > 0 {
				tool = &l.Tools[m.ToolNumber-1].TCP
			}
			stands := geom.Pose{R: m.Base.Rot(), T: m.Base.Vec}.Mul(tool.Inverse())
			if m.Shifts && (!known || stands.T.Dist(at.T) > 1e-9) {
				t.Fatalf("move %d selects another zone, and the flange goes from %v to %v\n%s", m.N, at.T, stands.T, text)
			}
			if m.Kind.IsMotion() {
				at, known = stands, true
			}
			line := told(&m)
			if line == "" {
				continue
			}
			if k == len(want) || line != want[k] {
				t.Fatalf("move %d: %q, wanted %q\n%s\n%s", m.N, line, want[min(k, len(want)-1)], strings.Join(want, "\n"), text)
			}
			k++
		}
		if k != len(want) {
			t.Fatalf("%d moves are missing, the first %q\n%s", len(want)-k, want[k], text)
		}
	})
	if descents == 0 || single == 0 {
		t.Errorf("%d descents of several zones and %d of one: the test proves little", descents, single)
	}
}
