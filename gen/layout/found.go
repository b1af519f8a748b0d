package layout

import (
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Found is which slots of each grid hold a part, as somebody found them; grids that
// were not looked at are left out. Errors go to list, and then the answer is not to
// be used.
func (l *Layout) Found(written *plan.Found, list *diag.List) map[*Grid]Slots {
	r := &resolver{list: list, gridOf: map[string]*Grid{}}
	for _, g := range l.Grids {
		r.gridOf[g.Name] = g
	}
	found := map[*Grid]Slots{}
	for _, w := range written.Grids {
		g := r.gridOf[w.Name.V]
		if g == nil {
			decode.Unknown(list, "grid", w.Name, keys(r.gridOf))
			continue
		}
		if g.Feeder() {
			list.Errorf("idle-key", w.Filled.Place, "%q is a feeder, whose slots fill or empty by themselves", g.Name).
				WithHint("leave the grid out of this file")
			continue
		}
		if slots, ok := r.slotsOf(g, w.Filled); ok {
			found[g] = slots
		}
	}
	return found
}
