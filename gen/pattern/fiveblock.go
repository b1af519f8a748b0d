package pattern

import "slices"

// Best is the layer with the most boxes that five blocks give: four of them at the
// corners of the footprint, pinwheel-wise, round a fifth, each of boxes that are turned
// alike, and any of them empty. Of layers with as many boxes it is the one with the
// fewest turned, then the fewest blocks, then the evenest, so that the same floor
// always gives the same layer.
//
// That is the five-block heuristic of Bischoff and Dowsland, "An application of the
// micro to product design and distribution", Journal of the Operational Research Society
// 33 (1982), with every cut that Morabito and Morales, "A simple and effective recursive
// procedure for the manufacturer's pallet loading problem", the same journal 49 (1998),
// try at one level (both from memory). A layout of more blocks may hold more: what is
// promised is the best of five. Where there would be more layouts than mostLayouts, which
// takes some 200 boxes twenty times as long as wide, or 1,000 more like squares, fewer
// are tried, and only those with no fewer boxes than columns and a pinwheel are promised.
func (f Floor) Best(looks *Looks) []LayBox {
	if !f.lays() {
		return nil
	}
	s := newSearch(f)
	if !looks.take(s.cost()) {
		return nil
	}
	s.run()
	layer := f.arrange(s.blocks())
	if wheel := f.Pinwheel(looks); len(wheel) > len(layer) { // only where not all was tried
		return wheel
	}
	return layer
}

// mostLayouts is how many layouts one search weighs.
const mostLayouts = 5_000_000

// cut is the two cuts along one axis: the least and the greatest coordinate of the
// middle block, in units. The middle has no room where they are the same.
type cut struct {
	lo, hi int64
	// fits is how many boxes fit along the axis in the room of each block, by the side of
	// the box that lies along it.
	fits [5][2]int32
}

// search is one for the best five blocks of a floor. With x the cuts along X and y those
// along Y, the blocks are, going round from the corner:
//
//	0: [0, x.lo] × [0, y.hi]   1: [x.lo, room] × [0, y.lo]   2: [x.hi, room] × [y.lo, room]
//	3: [0, x.hi] × [y.hi, room]   4, in the middle: [x.lo, x.hi] × [y.lo, y.hi]
//
// The other way round is the mirror image and holds as many.
type search struct {
	room, box [2]int64
	cuts      [2][]cut
	best      [2]cut
	score     score
}

func newSearch(f Floor) *search {
	s := &search{}
	s.room, s.box = f.units()
	var at [2][]int64
	for axis := range 2 {
		at[axis] = s.steps(axis)
	}
	several := [2]bool{true, true}
	for layouts(at, several) > mostLayouts && several != [2]bool{} {
		// One cut instead of two, first along the axis that has more of them.
		axis := 0
		if !several[0] || several[1] && len(at[1]) > len(at[0]) {
			axis = 1
		}
		several[axis] = false
	}
	for axis := range 2 {
		s.cuts[axis] = s.pairs(axis, at[axis], several[axis])
	}
	return s
}

// layouts is how many there are, or a few more.
func layouts(at [2][]int64, several [2]bool) int {
	all := 1
	for axis := range 2 {
		if all *= len(at[axis]); several[axis] {
			all = all * (len(at[axis]) + 1) / 2
		}
	}
	return all
}

// cost is the search in looks; making a cut is ten.
func (s *search) cost() int {
	return len(s.cuts[0])*len(s.cuts[1]) + 10*(len(s.cuts[0])+len(s.cuts[1]))
}

// steps is how far blocks of boxes reach from a side of the room, ascending from 0.
// Other cuts need not be tried: a block at the corner can lose what it has beyond its
// boxes, and the middle gains by it.
func (s *search) steps(axis int) []int64 {
	all := []int64{0}
	for i, side := range s.box {
		if s.box[1-i] > s.room[1-axis] {
			continue // no box lies so
		}
		for at := side; at <= s.room[axis]; at += side {
			all = append(all, at)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// pairs is the cuts along one axis: one from each side, or one from the lower side only.
func (s *search) pairs(axis int, at []int64, several bool) []cut {
	var all []cut
	for _, lo := range at {
		if !several {
			all = append(all, s.cut(axis, lo, lo))
			continue
		}
		for _, up := range at {
			if hi := s.room[axis] - up; hi >= lo {
				all = append(all, s.cut(axis, lo, hi))
			}
		}
	}
	return all
}

func (s *search) cut(axis int, lo, hi int64) cut {
	c := cut{lo: lo, hi: hi}
	for i, room := range c.rooms(axis, s.room[axis]) {
		for k, side := range s.box {
			if s.box[1-k] <= s.room[1-axis] {
				c.fits[i][k] = int32(room / side)
			}
		}
	}
	return c
}

// rooms is how long the blocks' rooms are along the axis.
func (c *cut) rooms(axis int, room int64) [5]int64 {
	lower, upper := [2]int64{c.lo, room - c.lo}, [2]int64{room - c.hi, c.hi}
	if axis == 1 {
		lower, upper = [2]int64{c.hi, c.lo}, [2]int64{room - c.lo, room - c.hi}
	}
	return [5]int64{lower[0], lower[1], upper[0], upper[1], c.hi - c.lo}
}

// score is how good a layout is.
type score struct{ boxes, turned, blocks, uneven int64 }

// above reports whether one layout is better than another.
func (s score) above(t score) bool {
	switch {
	case s.boxes != t.boxes:
		return s.boxes > t.boxes
	case s.turned != t.turned:
		return s.turned < t.turned
	case s.blocks != t.blocks:
		return s.blocks < t.blocks
	}
	return s.uneven < t.uneven
}

func (s *search) run() {
	for i := range s.cuts[0] {
		for k := range s.cuts[1] {
			if now, ok := s.weigh(&s.cuts[0][i], &s.cuts[1][k]); ok {
				s.best, s.score = [2]cut{s.cuts[0][i], s.cuts[1][k]}, now
			}
		}
	}
}

// weigh is the score of a layout, where it is better than the best so far.
func (s *search) weigh(x, y *cut) (now score, better bool) {
	for i := range x.fits {
		now.boxes += int64(max(x.fits[i][0]*y.fits[i][1], x.fits[i][1]*y.fits[i][0]))
	}
	if now.boxes < s.score.boxes {
		return now, false // most of them
	}
	var of [5]int64
	for i := range of {
		straight, turned := int64(x.fits[i][0]*y.fits[i][1]), int64(x.fits[i][1]*y.fits[i][0])
		if of[i] = max(straight, turned); turned > straight {
			now.turned += turned
		}
		now.blocks += min(of[i], 1)
	}
	now.uneven = max(of[0]-of[2], of[2]-of[0]) + max(of[1]-of[3], of[3]-of[1])
	return now, now.above(s.score)
}

// blocks is the blocks of the best layout, those at the corners pushed into them.
func (s *search) blocks() []placed {
	var all []placed
	wide, deep := s.best[0].rooms(0, s.room[0]), s.best[1].rooms(1, s.room[1])
	for i := range wide {
		p := placed{block: fill([2]int64{wide[i], deep[i]}, s.box)}
		if p.boxes() == 0 {
			continue
		}
		high := [5][2]int64{1: {1, 0}, 2: {1, 1}, 3: {0, 1}}[i]
		for axis := range 2 {
			p.at[axis] = high[axis] * (s.room[axis] - p.size(axis))
		}
		if i == 4 {
			p.at = [2]int64{s.best[0].lo, s.best[1].lo}
		}
		all = append(all, p)
	}
	return all
}
