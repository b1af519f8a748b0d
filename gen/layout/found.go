package layout

import (
	"gridferry/plan"
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
			unknown(list, "grid", w.Name, keys(r.gridOf))
			continue
		}
		if slots, ok := r.slotsOf(g, w.Filled); ok {
			found[g] = slots
		}
	}
	return found
}
