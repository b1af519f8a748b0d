package check

import (
	"fmt"
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// hangs is a rule about what hangs on the flange while the arm moves: how much it is, and what is
// said of a tool and parts that an entry carries.
type hangs struct {
	much func(t *layout.Tool, parts []layout.Hung) float64
	look func(c *Context, e *layout.Entry, parts []layout.Hung)
}

// single looks at the parts that are carried one by one, by each of the figures once, with the
// first entry that does so.
func (h hangs) single(c *Context) {
	type carrying struct {
		part *layout.Part
		by   *layout.Figures
	}
	seen := map[carrying]bool{}
	for _, e := range c.Layout.Entries {
		for i := range e.Stops {
			by := c.Layout.Figures(e, e.Stops[i].Grid)
			for _, part := range e.Kinds() {
				if now := (carrying{part, by}); e.Parts > 0 && e.AtOnce == 1 && !seen[now] {
					seen[now] = true
					h.look(c, e, []layout.Hung{{Part: part, By: by.Tool}})
				}
			}
		}
	}
}

// groups looks at parts of which several are carried at once: where they are taken or put down one
// after the other, or where the last group is smaller, a few of them may turn the flange more than all do.
func (h hangs) groups(c *Context) Watcher {
	if !slices.ContainsFunc(c.Layout.Entries, func(e *layout.Entry) bool { return e.AtOnce > 1 }) {
		return nil
	}
	return &hangsWatcher{hangs: h, c: c, most: map[*layout.Entry]float64{}, with: map[*layout.Entry][]layout.Hung{}}
}

type hangsWatcher struct {
	hangs
	c       *Context
	now     []layout.Hung
	changed bool
	entry   *layout.Entry // by which the parts were taken
	most    map[*layout.Entry]float64
	with    map[*layout.Entry][]layout.Hung // what hung then
}

func (w *hangsWatcher) Kinds() []move.Kind { return slices.Concat(move.Motions, move.Handlings) }

func (w *hangsWatcher) See(m *move.Move, _ *Scene) {
	switch {
	case m.Kind.IsMotion():
		if w.changed {
			w.changed = false
			w.weigh()
		}
	case m.Takes() || m.Puts():
		tool := w.c.Layout.Tools[m.ToolNumber-1]
		w.now = slices.DeleteFunc(w.now, func(h layout.Hung) bool { return h.By == tool })
		if part := w.c.Layout.Carried(m); part != nil && m.Takes() {
			w.now = append(w.now, layout.Hung{Part: part, By: tool})
		}
		w.entry, _ = w.c.Layout.EntryOf(m.Transfer)
		w.changed = w.entry.AtOnce > 1 && len(w.now) > 0
	}
}

// weigh keeps the most of each entry. The order in which parts hang makes no difference to it.
func (w *hangsWatcher) weigh() {
	if much := w.much(w.now[0].By, w.now); much > w.most[w.entry] {
		w.most[w.entry], w.with[w.entry] = much, append(w.with[w.entry][:0], w.now...)
	}
}

// Done says the same of tool and parts once, with the first entry that carries them so.
func (w *hangsWatcher) Done() {
	var said [][]layout.Hung
	for _, e := range w.c.Layout.Entries {
		if with := w.with[e]; with != nil && !slices.ContainsFunc(said, func(other []layout.Hung) bool { return slices.Equal(with, other) }) {
			said = append(said, with)
			w.look(w.c, e, with)
		}
	}
}

// together names what hangs on the flange: a tool and a part, or several in its zones.
func together(parts []layout.Hung) string {
	first, n := parts[0], len(parts)
	switch {
	case n == 1:
		return fmt.Sprintf("tool %q and part %q", first.By.Name, first.Part.Name)
	case slices.ContainsFunc(parts, func(h layout.Hung) bool { return h.Part != first.Part }):
		return fmt.Sprintf("the tool of %q and %d parts", first.By.Name, n)
	}
	return fmt.Sprintf("the tool of %q and %d parts %q", first.By.Name, n, first.Part.Name)
}
