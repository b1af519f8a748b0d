package layout

import "gridferry/gen/slot"

// Order is the order in which the slots of a rectangle are visited.
type Order uint8

const (
	ByRow      Order = iota // A1 A2 … B1
	ByColumn                // A1 B1 … A2
	Serpentine              // by row, every second row backwards
	Backward                // by row from the last slot on: how a stack of boxes is taken
	Shortest                // whichever order keeps the arm's ways short; by row until that is found
	Quickest                // likewise, by the time that they take
	Balanced                // in a ring, whichever order keeps it in balance; by row elsewhere
)

func orderOf(word string) Order {
	switch word {
	case "by-column":
		return ByColumn
	case "serpentine":
		return Serpentine
	case "shortest":
		return Shortest
	case "quickest":
		return Quickest
	case "balanced":
		return Balanced
	default:
		return ByRow
	}
}

// searched says that the order is the best of all that are found.
func (o Order) searched() bool { return o == Shortest || o == Quickest }

// nth is slot k of a rectangle in an order; layers are the outermost loop,
// from the top one down where parts leave, from the bottom one up where they
// arrive.
func (r Rect) nth(k int, o Order, topFirst bool) slot.Slot {
	rows, columns := r.rows(), r.columns()
	layer, k := k/(rows*columns), k%(rows*columns)
	if topFirst {
		layer = r.layers() - 1 - layer
	}
	if o == Backward {
		k = rows*columns - 1 - k
	}
	row, col := k/columns, k%columns
	switch {
	case o == ByColumn:
		row, col = k%rows, k/rows
	case o == Serpentine && row%2 == 1:
		col = columns - 1 - col
	}
	return slot.Slot{Row: r.Lo.Row + int32(row), Col: r.Lo.Col + int32(col), Layer: r.Lo.Layer + int32(layer)}
}

// each goes through the slots that are there, rectangle by rectangle, until
// yield says no; false when it did.
func each(g *Grid, rects []Rect, o Order, topFirst bool, yield func(slot.Slot) bool) bool {
	for _, r := range rects {
		for k := range r.size() {
			s := r.nth(k, o, topFirst)
			if g.Has(s) && !yield(s) {
				return false
			}
		}
	}
	return true
}
