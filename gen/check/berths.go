package check

import (
	"math"

	"gridferry/gen/arm"
)

// berths are those that were made while something is carried, where ways, lines and corners led: most are near to others. With them, and what
// else spares a close look, a check of the demo with an arm takes 0.4 times the work. They hold while no grid stands higher.
type berths struct {
	made [2][]berth   // for the links alone, and for all limbs
	ways map[way]bool // that are free, there and back
}

// mostBerths is how many are kept of each; the older half of them is forgotten then.
const mostBerths = 256

// space is what berths are asked for: the links alone or all limbs, in a scene.
type space struct {
	w    *armWatcher
	s    *Scene
	kind int
}

const onlyLinks, allLimbs = 0, 1

// space is that of some limbs now. Berths that do not hold any more are forgotten.
func (w *armWatcher) space(s *Scene, kind int) space {
	if s.rooms() != w.rooms || s.puts != w.puts && w.higher(s) {
		for _, known := range w.known {
			*known.berths = berths{}
		}
		w.higher(s)
	}
	w.rooms, w.puts = s.rooms(), s.puts
	return space{w, s, kind}
}

// higher says whether a grid stands higher than berths took it to stand, and has them take it as it is now. One layer
// counts as full even where nothing stands, or whatever comes and goes there would cost all berths.
func (w *armWatcher) higher(s *Scene) (higher bool) {
	if w.tops == nil {
		w.tops = make([]int, len(s.Grids))
	}
	for i, g := range s.Grids {
		higher = higher || g.top > w.tops[i]
		w.tops[i] = max(g.top, 0)
	}
	return higher
}

// make makes the berth about some readings.
func (p *space) make(at *arm.Readings) *berth {
	all := &p.w.berths.made[p.kind]
	if len(*all) == mostBerths {
		*all = append((*all)[:0], (*all)[mostBerths/2:]...)
	}
	*all = append(*all, p.w.berth(at))
	return &(*all)[len(*all)-1]
}

// holds says whether nothing is hit in a hull, by the berth that is nearest to it. One is made where none is as near as some.
func (p *space) holds(h *hull, near float64) bool {
	middle := h.middle()
	b, far := p.nearest(&middle)
	if b != nil && b.holds(p, h) {
		return true
	}
	return far > near && p.make(&middle).holds(p, h)
}

// nearest is the berth nearest to some readings, and how far that is; infinitely far where there is none.
func (p *space) nearest(at *arm.Readings) (nearest *berth, least float64) {
	least = math.Inf(1)
	all := p.w.berths.made[p.kind]
	for k := range all {
		if far := readAway(&all[k].at, at); far < least {
			nearest, least = &all[k], far
		}
	}
	return nearest, least
}

// readAway is how far all joints together are from one place to another, degrees and mm.
func readAway(a, b *arm.Readings) (sum float64) {
	for i := range a {
		sum += math.Abs(a[i] - b[i])
	}
	return sum
}

// free says whether nothing is hit on a way of the joints. Ways that are free are remembered.
func (p *space) free(from, to *arm.Readings) bool {
	known := p.w.berths
	if known.ways[way{from, to}] {
		return true
	}
	if !p.way(from, to, 0) {
		return false
	}
	if len(known.ways) >= mostLines {
		clear(known.ways)
	}
	if known.ways == nil {
		known.ways = map[way]bool{}
	}
	known.ways[way{from, to}], known.ways[way{to, from}] = true, true
	return true
}

// way says whether nothing is hit on a way of the joints, or a part of one.
func (p *space) way(from, to *arm.Readings, depth int) bool {
	const deepest = 6
	h := hull{at: [3]arm.Readings{*from, *to}, n: 2}
	if p.holds(&h, readAway(from, to)/4) {
		return true
	}
	middle := mean(from, to, 0.5)
	return depth < deepest && p.way(from, &middle, depth+1) && p.way(&middle, to, depth+1)
}

// corner says whether nothing is hit at means of three readings.
func (p *space) corner(a, b, c *arm.Readings, depth int) bool {
	const deepest, off = 3, 1e-6
	h := hull{at: [3]arm.Readings{*a, *b, *c}, n: 3}
	for i := range h.off {
		h.off[i] = off
	}
	a, b, c = longestFirst(a, b, c, readAway)
	if p.holds(&h, readAway(a, b)/4) {
		return true
	}
	middle := mean(a, b, 0.5)
	return depth < deepest && p.corner(a, &middle, c, depth+1) && p.corner(&middle, b, c, depth+1)
}
