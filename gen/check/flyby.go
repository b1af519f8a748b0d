package check

import (
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// flyByRadius compares fly-by radii with the distances that they have.
var flyByRadius = Rule{
	Finds: []manual.Page{{
		Name:     "fly-by-too-long",
		Severity: diag.Error,
		Doc: `The fly-by radius at a point is longer than half the shorter of the two ways that
meet there. Two such points beside each other would overlap, and a controller
refuses the move, shortens the radius or cuts the corner: nobody knows which.`,
		Do:   `Write a "fly_by" of the length that the hint names, or less.`,
		Bad:  "-  fly_by: 10\n+  fly_by: 35\n",
		Good: "-  fly_by: 10\n+  fly_by: 30\n",
	}, {
		Name:     "fly-by-at-slot",
		Severity: diag.Error,
		Doc:      `A straight line into a slot ends in a fly-by: the arm would never be in the slot.`,
		Do:       `Tell the people who make Gridferry: this is a mistake in the program, not in your plan.`,
		Unshown:  manual.Guards,
	}},
	Watch: func(c *Context) Watcher { return &flyByWatcher{c: c} },
}

type flyByWatcher struct {
	still
	motions
	c      *Context
	before geom.Vec  // where the last motion began
	known  bool      // before is known
	last   move.Move // the last motion, if it flies by, as far as corner asks for it; otherwise only that it does not
}

func (w *flyByWatcher) See(m *move.Move, s *Scene) {
	if w.last.FlyBy > 0 {
		w.corner(m.Base.Vec)
	}
	if m.FlyBy > 0 && m.Target.Grid != "" && !m.Target.Approach {
		w.c.find("fly-by-at-slot", m.Place, "%sthe arm flies by %q with a radius of %g mm, wanted a stop", during(m), m.Target, m.FlyBy)
	}
	if m.FlyBy <= 0 {
		w.last.FlyBy = 0
		return
	}
	w.before, w.known = s.From.At, s.From.Known
	// Not all of the move, which is large, and most motions fly by.
	last := &w.last
	last.Transfer, last.Figures, last.FlyBy = m.Transfer, m.Figures, m.FlyBy
	last.Base.Vec = m.Base.Vec
	last.Target = m.Target
	last.Place = m.Place
}

// corner looks at the point where two ways meet.
func (w *flyByWatcher) corner(next geom.Vec) {
	last := &w.last
	shorter := last.Base.Dist(next)
	if w.known {
		shorter = min(shorter, w.before.Dist(last.Base.Vec))
	}
	if last.FlyBy > shorter/2+hair {
		w.c.find("fly-by-too-long", w.c.Layout.FiguresOf(last).FlyBy.Place, "%sthe fly-by of %g mm at %q is more than half of the shorter way there, which has %.3f mm",
			during(last), last.FlyBy, last.Target, shorter).
			note(last.Place, "the first one is on the way of this entry").
			hint("a fly-by of up to %.3g mm fits there", shorter/2)
	}
}

// during names the transfer that a move belongs to, for the head of a message.
func during(m *move.Move) string {
	if m.Transfer == 0 {
		return ""
	}
	return "transfer " + strconv.Itoa(m.Transfer) + ": "
}
