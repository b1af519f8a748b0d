package check

import (
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// jaw guards the move list itself: a plan can only say where parts go, and the
// list is made so that every pick has its place.
var jaw = Rule{
	Finds: []Find{{
		Name:     "pick-while-holding",
		Severity: diag.Error,
		Doc:      `A part is picked while one is in the jaw.`,
		Guard:    true,
	}, {
		Name:     "place-with-nothing",
		Severity: diag.Error,
		Doc:      `The jaw opens at a slot to put a part down, and holds none.`,
		Guard:    true,
	}, {
		Name:     "part-left-in-jaw",
		Severity: diag.Error,
		Doc:      `A part is still in the jaw at the end.`,
		Guard:    true,
	}},
	Watch: func(c *Context) Watcher { return &jawWatcher{c: c} },
}

type jawWatcher struct {
	handling
	c     *Context
	holds move.Target // where the part in the jaw came from
	place diag.Place
}

func (w *jawWatcher) See(m *move.Move, s *Scene) {
	switch {
	case m.Takes():
		if s.Jaw.Holds {
			w.c.find("pick-while-holding", m.Place, "transfer %d picks from %q with the part from %q still in the jaw", m.Transfer, m.Target, s.Jaw.From)
		}
		w.holds, w.place = m.Target, m.Place
	case m.Puts():
		if !s.Jaw.Holds {
			w.c.find("place-with-nothing", m.Place, "transfer %d puts a part into %q, but the jaw holds none", m.Transfer, m.Target)
		}
		w.holds = move.Target{}
	}
}

func (w *jawWatcher) Done() {
	if !w.holds.IsZero() {
		w.c.find("part-left-in-jaw", w.place, "the part from %q is still in the jaw at the end", w.holds)
	}
}
