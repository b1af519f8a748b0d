package check

import (
	"cmp"
	"fmt"
	"math/bits"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// place looks at the slot that a part is put into.
var place = Rule{
	Finds: []Find{{
		Name:     "place-on-full",
		Severity: diag.Error,
		Doc:      `A part is put into a slot where one stands already.`,
		Bad:      "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"rack A3, B1\"}\n",
		Good:     "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"rack B1, B2\"}\n",
	}, {
		Name:     "same-slot",
		Severity: diag.Error,
		Doc:      `A part is put back where it was, which moves nothing.`,
		Bad:      "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"tray B1:B2\"}\n",
		Good:     "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"tray A1:A2\"}\n",
	}, {
		Name:     "no-support",
		Severity: diag.Error,
		Doc: `A part is put into an upper layer, or stands there from the start, and nothing
stands below it in the same row and column.`,
		Bad:  "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"pile A1.2, A1.1\"}\n",
		Good: "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"pile A2.1, A2.2\"}\n",
	}},
	Layout: func(c *Context) {
		for _, g := range c.Layout.Grids {
			c.supported(g)
		}
	},
	Watch: func(c *Context) Watcher { return &placeWatcher{c: c} },
}

// supported looks at the parts that stand in upper layers from the start.
func (c *Context) supported(g *layout.Grid) {
	for k, word := range g.Full {
		for ; word != 0; word &= word - 1 {
			i := k*64 + bits.TrailingZeros64(word)
			at := g.Slot(i)
			if below := i - g.PerLayer(); at.Layer > 0 && !g.Full.Has(below) {
				c.find("no-support", g.FullPlace, "a part stands in %q from the start, and none below it in %q",
					g.Name+" "+g.Label(at), g.Name+" "+g.Label(g.Slot(below)))
			}
		}
	}
}

type placeWatcher struct {
	still
	c       *Context
	entries map[diag.Place]*layout.Entry // made when one is asked for
}

// passedBefore advises where a chain comes to a grid a second time, as a whole: which of
// its slots are free was settled when the entry began, those of the first time among
// them. "" where that is not what happened.
func (w *placeWatcher) passedBefore(m *move.Move) string {
	e := w.entry(m.Place)
	if e == nil || m.Leg >= len(e.Stops) {
		return ""
	}
	destination := &e.Stops[m.Leg]
	for i := 1; destination.Whole && i < m.Leg; i++ {
		if e.Stops[i].Grid == destination.Grid {
			return fmt.Sprintf("%q by itself means the slots that are free when the entry begins, and those of the chain's stop %d are: write out the slots that the parts are to end in",
				destination.Grid.Name, i+1)
		}
	}
	return ""
}

func (w *placeWatcher) entry(at diag.Place) *layout.Entry {
	if w.entries == nil {
		w.entries = make(map[diag.Place]*layout.Entry, len(w.c.Layout.Entries))
		for _, e := range w.c.Layout.Entries {
			w.entries[e.Place] = e
		}
	}
	return w.entries[at]
}

func (w *placeWatcher) Kinds() []move.Kind { return []move.Kind{move.Release} }

func (w *placeWatcher) See(m *move.Move, s *Scene) {
	if s.Grid == nil {
		return
	}
	below := m.Target
	below.Slot.Layer--
	switch {
	case s.Gripper.Holds && s.Gripper.From == m.Target:
		w.c.find("same-slot", m.Place, "transfer %d puts its part back where it was, in %q", m.Transfer, m.Target).
			hinted(func() string { return w.passedBefore(m) })
	case s.Grid.Full.Has(s.Slot):
		w.c.find("place-on-full", m.Place, "transfer %d puts a part on %q, where one stands already", m.Transfer, m.Target).
			hinted(func() string { return cmp.Or(w.passedBefore(m), "\"check --slots\" shows what changes when") })
	case below.Slot.Layer >= 0 && !s.Grid.Full.Has(s.Grid.Grid.Index(below.Slot)):
		w.c.find("no-support", m.Place, "transfer %d puts a part into %q, and none stands below it in %q", m.Transfer, m.Target, below).
			hint("fill the lower layers first; a stop without layers does")
	}
}
