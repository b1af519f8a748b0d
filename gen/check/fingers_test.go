package check_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/plan/diag"
)

// handBench is a bench whose tool has a palm and two fingers, in the tool's frame: X and Y of
// each box, its lowest and highest place above the TCP, and how far it opens along X.
type handBench struct {
	bench
	boxes []handBox
}

type handBox struct {
	name     string
	from, to [3]float64
	open     float64
}

func randomHand(r *rapid.T) *handBench {
	tenths := func(what string, lo, hi int) float64 { return float64(rapid.IntRange(lo, hi).Draw(r, what)) / 10 }
	h := &handBench{bench: *randomBench(r)}
	h.clear = [4]float64{50, 50, 300, h.clear[3]}
	for i, g := range h.grids { // apart, so that each only has its own neighbours
		g.x, g.y, g.z = float64(1000*i), 0, 0
	}
	half := h.size[0] / 2
	thick, wide, long, deep := tenths("thick", 10, 80), tenths("wide", 20, 200), tenths("long", 200, 500), tenths("deep", -50, 100)
	left, right := tenths("left", 0, 150), tenths("right", 0, 150)
	h.boxes = []handBox{
		{"palm", [3]float64{-half, -wide, -100}, [3]float64{half, wide, -long}, 0},
		{"left", [3]float64{-half - thick, -wide, -long}, [3]float64{-half, wide, deep}, -left},
		{"right", [3]float64{half, -wide, -long}, [3]float64{half + thick, wide, deep}, right},
	}
	return h
}

func (h *handBench) text() string {
	var body strings.Builder
	for _, b := range h.boxes {
		fmt.Fprintf(&body, "%s: {from: [%g, %g, %g], to: [%g, %g, %g], open: [%g, 0, 0]}, ", b.name, b.from[0], b.from[1], b.from[2], b.to[0], b.to[1], b.to[2], b.open)
	}
	return strings.Replace(h.bench.text(), "mass: 1,", "mass: 1, body: {"+body.String()+"},", 1)
}

// box is one of the tool's boxes on the bench. The tool points down, so that its Y and Z count
// the other way.
func (h *handBench) box(b handBox, a arm, open bool) toyBox {
	middle, half := [3]float64{}, [3]float64{}
	for k := range middle {
		middle[k], half[k] = (b.from[k]+b.to[k])/2, (b.to[k]-b.from[k])/2
	}
	if open {
		middle[0] += b.open
	}
	x, y := turned(middle[0], -middle[1], a.turn)
	return toyBox{x: a.x + x, y: a.y + y, z: a.z - middle[2], l: half[0], w: half[1], h: half[2], turn: a.turn}
}

// nearest goes straight between a slot and its approach point and gives how deep one of the tool's
// boxes gets into a part, and how near a part is that has to stay clear of it; own is the number of
// the part that the tool takes or leaves, which a closed tool holds, and which a palm may touch.
func (h *handBench) nearest(at func(lift float64) arm, standing []toyBox, own int, open bool) (depth, tight float64) {
	depth, tight = -1e9, -1e9
	const steps = 500
	for i := range steps + 1 {
		a := at(50 * float64(i) / steps)
		for _, b := range h.boxes {
			for k, s := range standing {
				if k == own && !open {
					continue
				}
				in := overlap(h.box(b, a, open), s)
				depth = max(depth, in)
				if k != own || b.open != 0 {
					tight = max(tight, in)
				}
			}
		}
	}
	return depth, tight
}

// run makes all straight lines and says how deep the tool's boxes got into parts, and how near.
func (h *handBench) run() (hits, tight deepest) {
	hits, tight = -1e9, -1e9
	standing := []toyBox{}
	for i := range h.grids[0].rows * h.grids[0].columns {
		a := h.grids[0].at(i, 0)
		a.held = -h.grids[0].rpy
		box := h.part(a)
		box.slot = i
		standing = append(standing, box)
	}
	look := func(at func(float64) arm, own int, open bool) {
		depth, near := h.nearest(at, standing, own, open)
		hits.see(depth)
		tight.see(near)
	}
	for _, leg := range h.legs {
		from, to := h.grids[leg[0]], h.grids[leg[1]]
		for k := range min(parts(standing, leg[0]), to.rows*to.columns) {
			source := func(lift float64) arm { return from.at(k, lift) }
			destination := func(lift float64) arm { return to.at(k, lift) }
			i := index(standing, leg[0], k)
			look(source, i, true)
			now := source(0)
			now.holds, now.held = true, standing[i].turn-now.turn
			standing = append(standing[:i], standing[i+1:]...)
			look(source, -1, false)
			look(destination, -1, false)
			there := destination(0)
			there.held = now.held
			box := h.part(there)
			box.grid, box.slot = leg[1], k
			standing = append(standing, box)
			look(destination, len(standing)-1, true)
		}
	}
	return hits, tight
}

// TestFingersHitWhatSamplingFinds: random grids and random fingers have a finding exactly where
// brute force finds one: every straight line in small steps, every box of the tool against every
// part. What only just touches, or just has room, is left out.
func TestFingersHitWhatSamplingFinds(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: turned parts stand for them")
	}
	t.Parallel()
	count := map[string]int{}
	rapid.Check(t, func(r *rapid.T) {
		for range 3 {
			h := randomHand(r)
			hits, tight := h.run()
			text := h.text()
			found := map[string]bool{}
			for _, f := range findings(t, text) {
				found[f.Rule] = true
				if f.Severity == diag.Error && f.Rule == "invalid-key" {
					r.Fatal(f, text)
				}
			}
			if hits.sure() && hits.hit() != found["tool-hits-part"] {
				r.Fatalf("brute force finds the tool %.3f mm deep in parts, tool-hits-part is %t\n%s", float64(hits), found["tool-hits-part"], text)
			}
			room := -float64(tight)
			if near := room < 2; !hits.hit() && hits.sure() && math.Abs(room-2) > 0.1 && near != found["tool-tight"] {
				r.Fatalf("brute force finds %.3f mm of room, tool-tight is %t\n%s", room, found["tool-tight"], text)
			}
			count[fmt.Sprintf("%t %t", found["tool-hits-part"], found["tool-tight"])]++
		}
	})
	if !testing.Short() && (count["true false"] < 40 || count["false true"] < 10 || count["false false"] < 20) {
		t.Errorf("the test proves little: %v", count)
	}
	t.Log(count)
}
