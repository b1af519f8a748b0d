package layout

import (
	"gridferry/gen/geom"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/wording"
)

// offsets moves single slots of a grid off the places that its pattern gives them. A slot
// without a layer is one in each.
func (r *resolver) offsets(grid *Grid, g *plan.Grid) {
	off, said := map[int]geom.Vec{}, map[int]plan.Text{}
	for _, o := range g.Offsets {
		rect, ok := r.oneSlot(grid, o.Slot)
		if !ok || !o.By.IsSet() {
			continue
		}
		for at := rect.Lo; at.Layer <= rect.Hi.Layer; at.Layer++ {
			i := grid.Index(at)
			if _, twice := said[i]; twice {
				r.list.Errorf("slot-repeated", o.Slot.Place, "the slot %q of the grid %q has an offset already", grid.Label(at), grid.Name).
					WithNote(said[i].Place, "it is here").WithHint("keep one of the two")
				break
			}
			off[i], said[i] = vec(o.By), o.Slot
		}
		grid.Basis = append(grid.Basis, Basis{"how far the slot is off its place", where(func(s slot.Slot) bool { return said[grid.Index(s)] == o.Slot })(o.By.Place)})
	}
	if len(off) > 0 {
		grid.Pattern = pattern.Corrected(grid.Pattern, off)
	}
}

// oneSlot is a slot by its name, in one layer or in all.
func (r *resolver) oneSlot(grid *Grid, name plan.Text) (Rect, bool) {
	rects, ok := r.selection(grid, name, name.V)
	if !ok {
		return Rect{}, false
	}
	rect := rects[0]
	if len(rects) > 1 || rect.rows() > 1 || rect.columns() > 1 {
		r.list.Errorf("bad-selection", name.Place, "found %q, wanted one slot", wording.Brief(name.V)).WithHint("write each slot by itself, with its own offset")
		return Rect{}, false
	}
	return rect, true
}
