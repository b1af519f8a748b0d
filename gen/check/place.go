package check

import (
	"cmp"
	"fmt"
	"math/bits"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// place looks at the slot that a part is put into.
var place = Rule{
	Finds: []manual.Page{{
		Name:     "place-on-full",
		Severity: diag.Error,
		Doc:      `A part is put into a slot where one stands already.`,
		Do: `Take the part away first, or put this one elsewhere. "gridferry check --slots" shows what
changes when.`,
		Bad:  "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"rack A3, B1\"}\n",
		Good: "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"rack B1, B2\"}\n",
	}, {
		Name:     "same-slot",
		Severity: diag.Error,
		Doc:      `A part is put back where it was, which moves nothing.`,
		Do:       `Name another slot, or leave the entry out.`,
		Bad:      "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"tray B1:B2\"}\n",
		Good:     "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"tray A1:A2\"}\n",
	}, {
		Name:     "no-support",
		Severity: diag.Error,
		Doc: `A part is put into an upper layer, or stands there from the start, and the parts right
under it, of whichever grid, do not bear 60 % of its base: they are missing, too small,
turned otherwise, or end more than 5 mm lower. The same is asked of the lowest layer of a
grid that lies on another grid's slots. Where sizes are not known, a part has to stand
below it in the same row and column.`,
		Do:   `Fill the lower layers first, or put the part where others bear it.`,
		Bad:  "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"pile A1.2, A1.1\"}\n",
		Good: "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"pile A2.1, A2.2\"}\n",
	}},
	Layout: func(c *Context) {
		s := c.scene()
		for _, g := range s.Grids {
			if !c.crowded(g.Grid.Place) && (g.Grid.Layered() || !s.alone(g)) {
				c.supported(s, g)
			}
		}
	},
	Watch: func(c *Context) Watcher { return &placeWatcher{c: c} },
}

// supported looks at the parts that stand on others from the start.
func (c *Context) supported(s *Scene, g *Standing) {
	for k, word := range g.Full {
		for ; word != 0; word &= word - 1 {
			if c.crowded(g.Grid.FullPlace) {
				return
			}
			i := k*64 + bits.TrailingZeros64(word)
			at := g.Grid.Slot(i)
			here := move.Target{Grid: g.Grid.Name, Slot: at, Layered: g.Grid.Layered()}
			if share, hovers := s.hovers(g, at, g.standing(at).part, g.lies.Way(g.lies.At(i))); hovers {
				c.find("no-support", g.Grid.FullPlace, "a part stands in %q from the start, and %s", here, g.rests(here, share))
			}
		}
	}
}

// rests says on how little a part rests.
func (s *Standing) rests(on move.Target, share float64) string {
	below := on
	below.Slot.Layer--
	if share == 0 && s.Grid.Piled() && below.Slot.Layer >= 0 && !s.Full.Has(s.Grid.Index(below.Slot)) {
		return fmt.Sprintf("none stands below it in %q", below)
	}
	if share == 0 {
		return "nothing right under it bears it"
	}
	return fmt.Sprintf("%.0f %% of its base rest on others, less than the %.0f %% that it needs", 100*share, 100*leastBase)
}

type placeWatcher struct {
	still
	c *Context
}

// passedBefore advises where a chain comes to a grid a second time, as a whole: which of
// its slots are free was settled when the entry began, those of the first time among
// them. "" where that is not what happened.
func (w *placeWatcher) passedBefore(m *move.Move) string {
	e, _ := w.c.Layout.EntryOf(m.Transfer)
	if e == nil || e.Listed != nil || m.Leg >= len(e.Stops) {
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

// before says which transfer put the part there that stands in the slot of a move, or that
// it stands there from the start.
func (w *placeWatcher) before(m *move.Move, g *layout.Grid, r *report) {
	if r == nil {
		return
	}
	if n, e := filledBy(w.c.Layout, g, m); e != nil {
		r.note(e.PlaceOf(n), "transfer %d put a part there", n)
		return
	}
	r.note(g.FullPlace, "it stands there from the start")
}

// filledBy is the last transfer before a move that put a part into the move's slot, and
// its entry; nil for none.
func filledBy(l *layout.Layout, g *layout.Grid, m *move.Move) (transfer int, by *layout.Entry) {
	for _, e := range l.Entries {
		for i := range e.Legs {
			if e.Legs[i].To.Grid != g {
				continue
			}
			slots := e.Legs[i].To.Cursor()
			for n := range e.Along(i) {
				if at, _ := slots.Next(); at == m.Target.Slot && n < m.Transfer && n > transfer {
					transfer, by = n, e
				}
			}
		}
	}
	return transfer, by
}

func (w *placeWatcher) Kinds() []move.Kind { return []move.Kind{move.Release} }

func (w *placeWatcher) See(m *move.Move, s *Scene) {
	if s.Grid == nil {
		return
	}
	switch {
	case s.Gripper.Holds && s.Gripper.From == m.Target:
		w.c.find("same-slot", m.Place, "transfer %d puts %s back where it was, in %q", m.Transfer, its(m), m.Target).
			hinted(func() string { return w.passedBefore(m) })
	case s.Grid.Full.Has(s.Slot):
		r := w.c.find("place-on-full", m.Place, "transfer %d puts %s on %q, where %s stands already", m.Transfer, aPart(m), m.Target, s.one(m.Target, "one"))
		w.before(m, s.Grid.Grid, r)
		r.hinted(func() string { return cmp.Or(w.passedBefore(m), "\"check --slots\" shows what changes when") })
	default:
		if share, hovers := s.hovers(s.Grid, m.Target.Slot, s.Gripper.Part, s.lie(m)); hovers {
			w.c.find("no-support", m.Place, "transfer %d puts %s into %q, and %s", m.Transfer, aPart(m), m.Target, s.Grid.rests(m.Target, share)).
				hint("fill the lower layers first; a stop without layers does. What never has anything under it needs another layout or height")
		}
	}
}
