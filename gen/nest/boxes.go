package nest

import (
	"gridferry/gen/layout"
	"gridferry/gen/loops"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
)

// boxes covers a set of slots of the block from lo to hi with boxes that do not
// overlap: runs along a row, put together over rows, then over layers.
func boxes(cells *pattern.Extent, set layout.Slots, lo, hi slot.Slot) []loops.Box {
	var all []loops.Box
	for layer := lo.Layer; layer <= hi.Layer; layer++ {
		var flat []loops.Box
		for row := lo.Row; row <= hi.Row; row++ {
			flat = stack(flat, runs(cells, set, row, layer, lo, hi), loops.Row)
		}
		all = stack(all, flat, loops.Layer)
	}
	for i := range all {
		b := &all[i]
		for d, ends := range [3][2]int32{{lo.Row, hi.Row}, {lo.Col, hi.Col}, {lo.Layer, hi.Layer}} {
			b.Whole[d] = b.First[d] == int(ends[0])+1 && b.Last[d] == int(ends[1])+1
		}
	}
	return all
}

// runs are the slots of one row that stand side by side.
func runs(cells *pattern.Extent, set layout.Slots, row, layer int32, lo, hi slot.Slot) []loops.Box {
	var all []loops.Box
	for col := lo.Col; col <= hi.Col; col++ {
		if !set.Has(cells.Index(slot.Slot{Row: row, Col: col, Layer: layer})) {
			continue
		}
		at := [3]int{int(row) + 1, int(col) + 1, int(layer) + 1}
		if last := len(all) - 1; last >= 0 && all[last].Last[loops.Column] == at[loops.Column]-1 {
			all[last].Last = at
			continue
		}
		all = append(all, loops.Box{First: at, Last: at})
	}
	return all
}

// stack puts boxes on those of their size that end just before them.
func stack(below, next []loops.Box, direction loops.Counter) []loops.Box {
	for _, b := range next {
		if i := under(below, b, direction); i >= 0 {
			below[i].Last[direction] = b.Last[direction]
			continue
		}
		below = append(below, b)
	}
	return below
}

func under(below []loops.Box, b loops.Box, direction loops.Counter) int {
	for i, c := range below {
		fits := c.Last[direction] == b.First[direction]-1
		for d := range c.First {
			if loops.Counter(d) != direction {
				fits = fits && c.First[d] == b.First[d] && c.Last[d] == b.Last[d]
			}
		}
		if fits {
			return i
		}
	}
	return -1
}
