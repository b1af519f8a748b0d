package pattern

import "cmp"

// Sequence is an order in which the boxes of a layer can be put down by a tool that
// comes in over one side: their numbers in the layer. When a box is put down, none that
// is there already lies between it and that side. `from` points to the side: along an
// axis, such as {-1, 0} for the side of low X; where it points between two sides, such
// as {-1, -1}, the tool may come from anywhere between the two. So the farthest come
// first. The boxes of a layer are all as high and layers follow from below, so no box is
// reached over a higher one. In reverse, the order serves for taking the layer away.
//
// Rectangles that lie square to the axes and do not overlap can always be put in such
// an order (Guibas and Yao, "On translating a set of rectangles", Advances in Computing
// Research 1, 1983; from memory). Boxes that do overlap may have none: of those that
// wait for each other then the first in the layer comes first.
func (f Floor) Sequence(layer []LayBox, from [2]float64, looks *Looks) []int {
	n := len(layer)
	if !looks.take(n * n) {
		return nil
	}
	bases := f.bases(layer)
	waits := make([]int, n) // how many boxes have to come before each; -1 when its turn has come
	for i := range bases {
		for j := range bases {
			if i != j && bases[i].shields(&bases[j], from) {
				waits[i]++
			}
		}
	}
	order := make([]int, 0, n)
	for range n {
		next := farthest(bases, waits, from)
		order, waits[next] = append(order, next), -1
		for i := range bases {
			if waits[i] > 0 && bases[i].shields(&bases[next], from) {
				waits[i]--
			}
		}
	}
	return order
}

// farthest is the box farthest from the tool's side that need not wait; of several as
// far the one with the lowest X, then Y. Where all wait, it is the first that has not
// had its turn.
func farthest(bases []base, waits []int, from [2]float64) int {
	best, first := -1, -1
	for i, w := range waits {
		if w >= 0 && first < 0 {
			first = i
		}
		if w == 0 && (best < 0 || beyond(&bases[i], &bases[best], from) < 0) {
			best = i
		}
	}
	if best < 0 {
		return first
	}
	return best
}

// beyond compares two boxes by how far they are from the tool's side: less comes first.
func beyond(a, b *base, from [2]float64) int {
	reach := func(s *base) float64 {
		return float64(from[0]*float64(s.lo[0]+s.hi[0])) + float64(from[1]*float64(s.lo[1]+s.hi[1]))
	}
	return cmp.Or(cmp.Compare(reach(a), reach(b)), cmp.Compare(a.lo[0], b.lo[0]), cmp.Compare(a.lo[1], b.lo[1]))
}

// shields reports whether a box that is there already would be in the way of another that
// comes in from a side.
func (b *base) shields(other *base, from [2]float64) bool {
	for axis := range 2 {
		switch at := from[axis]; {
		case at < 0 && other.ends(b, axis), at > 0 && b.ends(other, axis):
			return false // it is behind the other
		case at == 0 && (other.ends(b, axis) || b.ends(other, axis)):
			return false // it is beside its way
		}
	}
	return true
}

// Shields reports, for every two boxes of a layer, whether the first would be in the way of the
// second if it were there already; nil where that is more work than is left.
func (f Floor) Shields(layer []LayBox, from [2]float64, looks *Looks) [][]bool {
	n := len(layer)
	if !looks.take(n * n) {
		return nil
	}
	bases, all := f.bases(layer), make([][]bool, n)
	for i := range bases {
		all[i] = make([]bool, n)
		for j := range bases {
			all[i][j] = i != j && bases[i].shields(&bases[j], from)
		}
	}
	return all
}
