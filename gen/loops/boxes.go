package loops

import (
	"gridferry/gen/layout"
	"gridferry/gen/slot"
)

// boxes covers a set of slots of the block from lo to hi with boxes that do not
// overlap: runs along a row, put together over rows, then over layers.
func boxes(g *layout.Grid, set layout.Slots, lo, hi slot.Slot) []Box {
	var all []Box
	for layer := lo.Layer; layer <= hi.Layer; layer++ {
		var flat []Box
		for row := lo.Row; row <= hi.Row; row++ {
			flat = stack(flat, runs(g, set, row, layer, lo, hi), Row)
		}
		all = stack(all, flat, Layer)
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
func runs(g *layout.Grid, set layout.Slots, row, layer int32, lo, hi slot.Slot) []Box {
	var all []Box
	for col := lo.Col; col <= hi.Col; col++ {
		if !set.Has(g.Index(slot.Slot{Row: row, Col: col, Layer: layer})) {
			continue
		}
		at := [3]int{int(row) + 1, int(col) + 1, int(layer) + 1}
		if last := len(all) - 1; last >= 0 && all[last].Last[Column] == at[Column]-1 {
			all[last].Last = at
			continue
		}
		all = append(all, Box{First: at, Last: at})
	}
	return all
}

// stack puts boxes on those of their size that end just before them.
func stack(below, next []Box, direction Counter) []Box {
	for _, b := range next {
		if i := under(below, b, direction); i >= 0 {
			below[i].Last[direction] = b.Last[direction]
			continue
		}
		below = append(below, b)
	}
	return below
}

func under(below []Box, b Box, direction Counter) int {
	for i, c := range below {
		fits := c.Last[direction] == b.First[direction]-1
		for d := range c.First {
			if Counter(d) != direction {
				fits = fits && c.First[d] == b.First[d] && c.Last[d] == b.Last[d]
			}
		}
		if fits {
			return i
		}
	}
	return -1
}

func (b Box) moved(by [3]int) Box {
	for d := range by {
		b.First[d] += by[d]
		b.Last[d] += by[d]
	}
	return b
}
