package layout

import (
	"cmp"
	"slices"

	"gridferry/gen/slot"
)

// sorting is the stop's parts in the order in which they would go if the whole
// grid were visited in an order: layers first, as ever. A stop that is not
// free keeps its own.
func (s *roundStop) sorting(o Order) []int {
	parts := make([]int, len(s.slots))
	for i := range parts {
		parts[i] = i
	}
	if !s.free {
		return parts
	}
	slices.SortStableFunc(parts, func(a, b int) int {
		x, y := s.slots[a], s.slots[b]
		if d := cmp.Compare(x.Layer, y.Layer); d != 0 {
			if s.topFirst {
				return -d
			}
			return d
		}
		return o.compare(x, y)
	})
	return parts
}

// compare reports which of two slots of a layer comes first.
func (o Order) compare(a, b slot.Slot) int {
	switch row, col := cmp.Compare(a.Row, b.Row), cmp.Compare(a.Col, b.Col); {
	case o == ByColumn:
		return cmp.Or(col, row)
	case o == Serpentine && row == 0 && a.Row%2 == 1:
		return -col
	default:
		return cmp.Or(row, col)
	}
}
