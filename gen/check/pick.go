package check

import (
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// pick looks at the slot that a part is taken from.
var pick = Rule{
	Finds: []manual.Page{{
		Name:     "pick-from-empty",
		Severity: diag.Error,
		Doc:      `A part is picked from a slot where none stands at that time.`,
		Do: `Say with "filled" or "contents" what stands there at the start, or take other slots.
"gridferry check --slots" shows what changes when.`,
		Bad:  "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray A1:A2\", to: \"pile A1.1, A1.2\"}\n",
		Good: "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"rack A1:A2\", to: \"pile A1.1, A1.2\"}\n",
	}, {
		Name:     "part-above",
		Severity: diag.Error,
		Doc: `A part is picked while another one stands above it, in a higher layer of the same
row and column, or rests on it, in whichever grid.`,
		Do: `Take the upper layers first.`,
		Bad: "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n" +
			"+  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"pile A1.1, A1.2\", to: \"tray B1:B2\"}\n",
		Good: "-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n" +
			"+  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"pile A1.2, A1.1\", to: \"tray B1:B2\"}\n",
	}},
	Watch: func(c *Context) Watcher { return &pickWatcher{c: c} },
}

type pickWatcher struct {
	still
	c *Context
}

func (w *pickWatcher) Kinds() []move.Kind { return []move.Kind{move.Grip} }

func (w *pickWatcher) See(m *move.Move, s *Scene) {
	if s.Grid == nil {
		return
	}
	if !s.Grid.Full.Has(s.Slot) {
		w.c.find("pick-from-empty", m.Place, "transfer %d picks from %q, where no part stands", m.Transfer, m.Target).
			hint("\"filled\" or \"contents\" of the grid says what stands there at the start; \"check --slots\" shows what changes when")
		return
	}
	above := m.Target
	for above.Slot.Layer++; s.Grid.Grid.Piled() && int(above.Slot.Layer) < s.Grid.Grid.Layers; above.Slot.Layer++ {
		if s.Grid.Full.Has(s.Grid.Grid.Index(above.Slot)) {
			w.c.find("part-above", m.Place, "transfer %d picks from %q while %s stands above it, in %q", m.Transfer, m.Target, s.one(above, "a part"), above).
				hint("take the upper layers first; a stop without layers does")
			return
		}
	}
	w.resting(m, s)
}

// resting looks for a part of another grid, or of another column, that rests on the one
// that is taken.
func (w *pickWatcher) resting(m *move.Move, s *Scene) {
	if !s.Grid.part.Sized() || s.Grid.lies.Ways() == nil && s.Grid.Grid.Piled() && s.alone(s.Grid) {
		return
	}
	taken := s.Grid.standing(m.Target.Slot)
	if g, at := s.onTop(s.Grid, &taken); g != nil {
		w.c.pinned = move.Target{Grid: g.Grid.Name, Slot: at, Layered: g.Grid.Layered()}
		w.c.find("part-above", m.Place, "transfer %d picks from %q while %s rests on it, in %q", m.Transfer, m.Target, s.one(w.c.pinned, "a part"), w.c.pinned).
			hint("take the upper part first")
	}
}
