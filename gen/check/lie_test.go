package check_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestTurnedPartsHitWhatSamplingFinds: a random plan in which parts come to lie turned
// has a finding exactly where a simulator finds one, that goes through the moves in
// small steps and compares boxes in all directions. What only just touches is left out.
func TestTurnedPartsHitWhatSamplingFinds(t *testing.T) {
	t.Parallel()
	count := map[string]int{}
	rapid.Check(t, func(r *rapid.T) {
		for range 7 {
			b := randomBench(r)
			hits, passes := b.run()
			text := b.text()
			found := map[string]bool{}
			for _, f := range findings(t, text) {
				found[f.Rule] = true
			}
			if found["part-above"] { // what rests on the part that is taken is hit by it
				found["part-hits-part"] = true
			}
			if hits.sure() && hits.hit() != found["part-hits-part"] {
				r.Fatalf("sampling finds parts %.3f mm deep in others, part-hits-part is %t\n%s", float64(hits), found["part-hits-part"], text)
			}
			if !found["part-hits-part"] && passes.sure() && passes.hit() != found["travel-over-parts"] {
				r.Fatalf("sampling finds travels %.3f mm deep in parts, travel-over-parts is %t\n%s", float64(passes), found["travel-over-parts"], text)
			}
			count[fmt.Sprintf("%t %t", hits.hit(), passes.hit())]++
		}
	})
	if !testing.Short() && (count["false false"] < 20 || count["true false"] < 20 || count["false true"] < 1) { // rapid tries a fifth with -short
		t.Errorf("the test proves little: %v", count)
	}
}

// deepest is how deep something was at most in something else, mm, negative where there was room.
type deepest float64

func (d deepest) hit() bool { return d > 0 }

// sure leaves out what depends on the steps, and on what counts as touching.
func (d deepest) sure() bool { return d > 0.3 || d < -0.3 }

func (d *deepest) see(depth float64) { *d = max(*d, deepest(depth)) }

// The bench below is written from what the plan format says: the tool points down and
// is turned about the vertical only, so that one angle says how anything lies.

// toyBox is a box on the bench: its middle, half its size, and its turn in degrees.
type toyBox struct {
	x, y, z    float64
	l, w, h    float64
	turn       float64
	grid, slot int
}

// benchGrid is a grid in a frame of its own.
type benchGrid struct {
	x, y, z, turn float64 // the frame
	rows, columns int
	pitch         [2]float64
	rpy           float64 // yaw of the tool in the frame
}

type bench struct {
	size     [3]float64
	grip     float64
	symmetry string
	clear    [4]float64 // x, y, z, turn
	grids    []*benchGrid
	legs     [][2]int // whole grids
}

func randomBench(r *rapid.T) *bench {
	whole := func(what string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(r, what)) }
	turn := func(what string) float64 {
		return float64(rapid.SampledFrom([]int{0, 0, 0, 90, 180, 270, 30, 45, 100, 211}).Draw(r, what))
	}
	b := &bench{size: [3]float64{whole("length", 20, 60), whole("width", 20, 60), whole("height", 15, 40)}, symmetry: rapid.SampledFrom([]string{"half", "none"}).Draw(r, "symmetry")}
	b.grip = whole("grip", 0, int(b.size[2]))
	b.clear = [4]float64{whole("x", -100, 200), whole("y", -100, 200), whole("height", 45, 100), turn("clear")}
	for range 3 {
		g := &benchGrid{x: whole("x", -100, 200), y: whole("y", -100, 200), z: whole("z", -30, 30), turn: turn("frame"), rpy: turn("yaw"),
			rows: rapid.IntRange(1, 2).Draw(r, "rows"), columns: rapid.IntRange(1, 3).Draw(r, "columns")}
		for k := range g.pitch {
			g.pitch[k] = math.Round(b.size[k] * (1 + whole("room", 0, 12)/10))
		}
		b.grids = append(b.grids, g)
	}
	b.legs = [][2]int{{0, 1}, {1, 2}, {2, 0}}[:rapid.SampledFrom([]int{1, 1, 2, 3}).Draw(r, "legs")]
	return b
}

func (b *bench) text() string {
	var t strings.Builder
	fmt.Fprintf(&t, `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  poses: {clear: {at: [%g, %g, %g], rpy: [180, 0, %g]}}
  frames:
`, b.clear[0], b.clear[1], b.clear[2], b.clear[3])
	for i, g := range b.grids {
		fmt.Fprintf(&t, "    f%d: {at: [%g, %g, %g], rpy: [0, 0, %g]}\n", i, g.x, g.y, g.z, g.turn)
	}
	fmt.Fprintf(&t, "parts: {p: {mass: 0.1, size: [%g, %g, %g], grip: %g, symmetry: %s}}\ngrids:\n", b.size[0], b.size[1], b.size[2], b.grip, b.symmetry)
	for i, g := range b.grids {
		filled := "none"
		if i == 0 {
			filled = "all"
		}
		fmt.Fprintf(&t, "  g%d: {frame: f%d, rows: %d, columns: %d, pitch: [%g, %g], first: [0, 0, 0], rpy: [180, 0, %g], part: p, filled: %s}\n",
			i, i, g.rows, g.columns, g.pitch[0], g.pitch[1], g.rpy, filled)
	}
	t.WriteString("motion: {tool: jaw, approach: 50, speed: {travel: 100, near: 10}, clear: clear}\ntransfers:\n")
	for _, leg := range b.legs {
		fmt.Fprintf(&t, "  - {from: g%d, to: g%d}\n", leg[0], leg[1])
	}
	return t.String()
}

// arm is where the tool is, how it is turned, and what hangs on it.
type arm struct {
	x, y, z, turn float64
	holds         bool
	held          float64 // how the part is turned against the tool
}

// at is the arm in a slot of a grid, lifted.
func (g *benchGrid) at(slot int, lift float64) arm {
	x, y := turned(float64(slot%g.columns)*g.pitch[0], float64(slot/g.columns)*g.pitch[1], g.turn)
	return arm{x: g.x + x, y: g.y + y, z: g.z + lift, turn: g.turn + g.rpy}
}

func turned(x, y, by float64) (float64, float64) {
	sin, cos := math.Sincos(by * math.Pi / 180)
	return x*cos - y*sin, x*sin + y*cos
}

// part is the box that hangs on the arm. The tool points down: its own turns count
// backwards, which for a part that goes along with it comes to the same.
func (b *bench) part(a arm) toyBox {
	return toyBox{x: a.x, y: a.y, z: a.z - b.grip + b.size[2]/2, l: b.size[0] / 2, w: b.size[1] / 2, h: b.size[2] / 2, turn: a.turn + a.held}
}

// run makes all moves and says how deep parts got into others on straight lines and at
// the ends of travels, and on travels.
func (b *bench) run() (hits, passes deepest) {
	hits, passes = -1e9, -1e9
	standing := []toyBox{}
	for i := range b.grids[0].rows * b.grids[0].columns {
		a := b.grids[0].at(i, 0)
		a.held = -b.grids[0].rpy
		box := b.part(a)
		box.slot = i
		standing = append(standing, box)
	}
	now, known := arm{}, false
	clear := arm{x: b.clear[0], y: b.clear[1], z: b.clear[2], turn: b.clear[3]}
	travel := func(to arm) {
		if known {
			passes.see(b.deepestOn(now, to, standing, 300, true))
		}
		to.holds, to.held = now.holds, now.held
		hits.see(b.deepestOn(to, to, standing, 0, true))
		now, known = to, true
	}
	// enter comes to an approach point past the clear pose, unless the arm stands there already.
	enter := func(to arm) {
		if there := (arm{to.x, to.y, to.z, to.turn, now.holds, now.held}); !known || now != there {
			travel(clear)
			travel(to)
		}
	}
	straight := func(to arm, others []toyBox) {
		to.holds, to.held = now.holds, now.held
		if now.holds {
			hits.see(b.deepestOn(now, to, others, 200, false))
		}
		now = to
	}
	for _, leg := range b.legs {
		from, to := b.grids[leg[0]], b.grids[leg[1]]
		left := parts(standing, leg[0])
		for k := range min(left, to.rows*to.columns) {
			enter(from.at(k, 50))
			straight(from.at(k, 0), standing)
			i := index(standing, leg[0], k)
			now.holds, now.held = true, standing[i].turn-now.turn
			standing = append(standing[:i], standing[i+1:]...)
			straight(from.at(k, 50), standing)
			enter(to.at(k, 50))
			straight(to.at(k, 0), standing)
			box := b.part(now)
			box.grid, box.slot = leg[1], k
			standing = append(standing, box)
			now.holds = false
			straight(to.at(k, 50), standing)
		}
	}
	travel(clear)
	return hits, passes
}

func parts(standing []toyBox, grid int) (n int) {
	for _, s := range standing {
		if s.grid == grid {
			n++
		}
	}
	return n
}

func index(standing []toyBox, grid, slot int) int {
	for i, s := range standing {
		if s.grid == grid && s.slot == slot {
			return i
		}
	}
	panic("no part in the slot")
}

// deepestOn goes from one place to another in steps, turning evenly the shorter way, and
// either way where that is half a turn.
func (b *bench) deepestOn(from, to arm, standing []toyBox, steps int, tcp bool) float64 {
	way := math.Remainder(to.turn-from.turn, 360)
	depth := b.deepestTurning(way, from, to, standing, steps, tcp)
	if math.Abs(way) == 180 {
		depth = max(depth, b.deepestTurning(-way, from, to, standing, steps, tcp))
	}
	return depth
}

// deepestTurning is the same with the turn given. The TCP is a box without a size.
func (b *bench) deepestTurning(way float64, from, to arm, standing []toyBox, steps int, tcp bool) float64 {
	depth := -1e9
	for i := range steps + 1 {
		t := 0.0
		if steps > 0 {
			t = float64(i) / float64(steps)
		}
		a := arm{x: from.x + t*(to.x-from.x), y: from.y + t*(to.y-from.y), z: from.z + t*(to.z-from.z), turn: from.turn + t*way, holds: from.holds || to.holds, held: from.held}
		if !from.holds {
			a.held = to.held
		}
		for _, s := range standing {
			if tcp {
				depth = max(depth, overlap(toyBox{x: a.x, y: a.y, z: a.z}, s))
			}
			if a.holds {
				depth = max(depth, overlap(b.part(a), s))
			}
		}
	}
	return depth
}

// overlap is how far two boxes reach into each other along the direction in which they
// do so least: along the vertical, or square to one of their sides.
func overlap(a, b toyBox) float64 {
	least := a.h + b.h - math.Abs(a.z-b.z)
	for _, turn := range []float64{a.turn, a.turn + 90, b.turn, b.turn + 90} {
		x, _ := turned(a.x-b.x, a.y-b.y, -turn)
		least = min(least, a.reach(turn)+b.reach(turn)-math.Abs(x))
	}
	return least
}

// reach is how far a box goes from its middle in a level direction.
func (b toyBox) reach(direction float64) float64 {
	x, y := turned(1, 0, direction-b.turn)
	return math.Abs(x)*b.l + math.Abs(y)*b.w
}
