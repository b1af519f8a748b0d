package resume

import (
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/slot"
)

// Selection writes a set of slots as a plan would: "A1:B6, C2", "none" or "all".
// Rows with the same columns become one rectangle.
func Selection(g *layout.Grid, full layout.Slots) string {
	var items []string
	everything := true
	for layer := range g.Layers {
		var open []block
		for row := range g.Rows {
			runs, whole := runsOf(g, full, row, layer)
			everything = everything && whole
			open = grow(open, runs, row, func(b block) { items = append(items, b.label(g, layer)) })
		}
		for _, b := range open {
			items = append(items, b.label(g, layer))
		}
	}
	switch {
	case len(items) == 0:
		return "none"
	case everything:
		return "all"
	}
	return strings.Join(items, ", ")
}

// block is the columns from..to of some rows.
type block struct{ from, to, top, bottom int }

func (b block) label(g *layout.Grid, layer int) string {
	at := func(row, col int) string {
		return g.Label(slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)})
	}
	if b.from == b.to && b.top == b.bottom {
		return at(b.top, b.from)
	}
	return at(b.top, b.from) + ":" + at(b.bottom, b.to)
}

// runsOf is the runs of full slots in a row, and whether every slot of it that is
// there is full. A missing slot ends a run: a rectangle passes over it, but a
// single slot that is missing cannot be named.
func runsOf(g *layout.Grid, full layout.Slots, row, layer int) (runs []block, whole bool) {
	whole = true
	open := false
	for col := range g.Length(row) {
		i := g.Index(slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)})
		is := full.Has(i)
		whole = whole && (is || g.Missing.Has(i))
		switch {
		case is && open:
			runs[len(runs)-1].to = col
		case is:
			runs = append(runs, block{col, col, row, row})
		}
		open = is
	}
	return runs, whole
}

// grow lets blocks go on into the next row where the columns are the same; when
// any differs all of them end, so that the order of the list stays that of rows.
func grow(open, runs []block, row int, done func(block)) []block {
	same := len(open) == len(runs)
	for i := range open {
		same = same && open[i].from == runs[i].from && open[i].to == runs[i].to
	}
	if !same {
		for _, b := range open {
			done(b)
		}
		return runs
	}
	for i := range open {
		open[i].bottom = row
	}
	return open
}
