package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// occupancy follows every part from slot to slot.
var occupancy = Rule{
	Names: []string{"pick-from-empty", "place-on-full", "same-slot"},
	Doc:   "A part is picked only where one stands, and put down only where none does.",
	Watch: newOccupancy,
}

type occupancyWatcher struct {
	c     *Context
	grids map[string]*layout.Grid
	full  map[string]layout.Slots
	jaw   holding
	fold  *folder
}

func newOccupancy(c *Context) Watcher {
	o := &occupancyWatcher{c: c, grids: map[string]*layout.Grid{}, full: map[string]layout.Slots{}, fold: newFolder(c.List)}
	for _, g := range c.Layout.Grids {
		o.grids[g.Name] = g
		o.full[g.Name] = append(layout.Slots(nil), g.Full...)
	}
	return o
}

func (o *occupancyWatcher) See(m *move.Move) {
	if m.Target.Grid == "" {
		return
	}
	i := o.grids[m.Target.Grid].Index(m.Target.Slot)
	full := o.full[m.Target.Grid]
	switch m.Kind {
	case move.Grip:
		o.pick(m, full, i)
	case move.Release:
		o.place(m, full, i)
	}
}

func (o *occupancyWatcher) pick(m *move.Move, full layout.Slots, i int) {
	if !full.Has(i) {
		o.report(m, "pick-from-empty", "transfer %d picks from %q, where no part stands", m.Transfer, m.Target)
	}
	full.Remove(i)
	o.jaw = holding{true, m.Target}
}

func (o *occupancyWatcher) place(m *move.Move, full layout.Slots, i int) {
	switch {
	case o.jaw.part && o.jaw.from == m.Target:
		o.report(m, "same-slot", "transfer %d puts its part back where it was, in %q", m.Transfer, m.Target)
	case full.Has(i):
		o.report(m, "place-on-full", "transfer %d puts a part on %q, where one stands already", m.Transfer, m.Target)
	}
	full.Add(i)
	o.jaw = holding{}
}

func (o *occupancyWatcher) report(m *move.Move, rule, format string, args ...any) {
	o.fold.errorf(rule, m.Place, format, args...)
}

func (o *occupancyWatcher) Done() { o.fold.done() }
