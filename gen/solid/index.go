package solid

import (
	"cmp"
	"slices"

	"gridferry/gen/geom"
)

// Index finds, among many boxes, those that one overlaps: a tree whose every
// node bounds the two halves below it.
type Index struct {
	boxes []Bounds
	order []int    // the boxes as the leaves stand
	nodes []Bounds // in preorder: a node, its lower half, its upper half
	found []int
}

// NewIndex takes the boxes over.
func NewIndex(boxes []Bounds) *Index {
	x := &Index{boxes: boxes, order: make([]int, len(boxes))}
	for i := range x.order {
		x.order[i] = i
	}
	if len(boxes) > 0 {
		x.nodes = make([]Bounds, 0, 2*len(boxes))
		x.build(x.order)
	}
	return x
}

// build makes the node of some leaves, halved along the longest side of their
// centres' box.
func (x *Index) build(leaves []int) {
	all, middles := x.boxes[leaves[0]], Bounds{middleOf(&x.boxes[leaves[0]]), middleOf(&x.boxes[leaves[0]])}
	for _, i := range leaves[1:] {
		all = all.Around(&x.boxes[i])
		m := middleOf(&x.boxes[i])
		middles = middles.Around(&Bounds{m, m})
	}
	x.nodes = append(x.nodes, all)
	if len(leaves) == 1 {
		return
	}
	side := middles.Hi.Sub(middles.Lo)
	along := func(v geom.Vec) float64 {
		switch {
		case side.X >= side.Y && side.X >= side.Z:
			return v.X
		case side.Y >= side.Z:
			return v.Y
		default:
			return v.Z
		}
	}
	slices.SortFunc(leaves, func(i, j int) int {
		return cmp.Or(cmp.Compare(along(middleOf(&x.boxes[i])), along(middleOf(&x.boxes[j]))), cmp.Compare(i, j))
	})
	half := len(leaves) / 2
	x.build(leaves[:half])
	x.build(leaves[half:])
}

func middleOf(b *Bounds) geom.Vec { return b.Lo.Add(b.Hi) } // twice the middle orders as well

// Overlapping gives the numbers of the boxes that one overlaps, ascending. The
// slice is used again by the next call.
func (x *Index) Overlapping(b *Bounds) []int {
	x.found = x.found[:0]
	if len(x.boxes) > few {
		x.search(0, x.order, b)
		slices.Sort(x.found)
		return x.found
	}
	for i := range x.boxes {
		if x.boxes[i].Overlaps(b) {
			x.found = append(x.found, i)
		}
	}
	return x.found
}

// few is how many boxes are faster scanned than searched.
const few = 8

// search looks below a node, which has these leaves. A subtree of n leaves has
// 2n - 1 nodes.
func (x *Index) search(node int, leaves []int, b *Bounds) {
	if !x.nodes[node].Overlaps(b) {
		return
	}
	if len(leaves) == 1 {
		x.found = append(x.found, leaves[0])
		return
	}
	half := len(leaves) / 2
	x.search(node+1, leaves[:half], b)
	x.search(node+2*half, leaves[half:], b)
}
