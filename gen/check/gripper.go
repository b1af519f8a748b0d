package check

import (
	"slices"

	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// gripper guards the move list itself: a plan can only say where parts go, and the
// list is made so that every pick has its place.
var gripper = Rule{
	Finds: []manual.Page{{
		Name:     "pick-while-holding",
		Severity: diag.Error,
		Doc:      `A part is picked while one is in the gripper.`,
		Do:       `Tell the people who make Gridferry: this is a mistake in the program, not in your plan.`,
		Unshown:  manual.Guards,
	}, {
		Name:     "place-with-nothing",
		Severity: diag.Error,
		Doc:      `The gripper opens at a slot to put a part down, and holds none.`,
		Do:       `Tell the people who make Gridferry: this is a mistake in the program, not in your plan.`,
		Unshown:  manual.Guards,
	}, {
		Name:     "part-left-in-gripper",
		Severity: diag.Error,
		Doc:      `A part is still in the gripper at the end.`,
		Do:       `Tell the people who make Gridferry: this is a mistake in the program, not in your plan.`,
		Unshown:  manual.Guards,
	}},
	Watch: func(c *Context) Watcher { return &gripperWatcher{c: c} },
}

type gripperWatcher struct {
	handling
	c     *Context
	holds []taken // the parts in the gripper, or in its zones
}

// taken is a part in a gripper: where it came from, and the tool's number.
type taken struct {
	tool  int
	from  move.Target
	place diag.Place
}

func (w *gripperWatcher) See(m *move.Move, s *Scene) {
	switch {
	case m.Takes():
		if s.Gripper.Holds {
			w.c.find("pick-while-holding", m.Place, "transfer %d picks from %q with the part from %q still in the gripper", m.Transfer, m.Target, s.Gripper.From)
		}
		w.holds = append(w.free(m), taken{m.ToolNumber, m.Target, m.Place})
	case m.Puts():
		if !s.Gripper.Holds {
			w.c.find("place-with-nothing", m.Place, "transfer %d puts a part into %q, but the gripper holds none", m.Transfer, m.Target)
		}
		w.holds = w.free(m)
	}
}

// free is what is held beside the gripper of a move.
func (w *gripperWatcher) free(m *move.Move) []taken {
	return slices.DeleteFunc(w.holds, func(t taken) bool { return t.tool == m.ToolNumber })
}

func (w *gripperWatcher) Done() {
	for _, t := range w.holds {
		w.c.find("part-left-in-gripper", t.place, "the part from %q is still in the gripper at the end", t.from)
	}
}
