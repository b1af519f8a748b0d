package check

import (
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// blend holds fly-by radii to the way there is.
var blend = Rule{
	Finds: []Find{{
		Name:     "blend-too-long",
		Severity: diag.Error,
		Doc: `The blend radius at a point is longer than half the shorter of the two ways that
meet there. Two such points beside each other would overlap, and a controller
refuses the move, shortens the radius or cuts the corner: nobody knows which.`,
		Bad:  "-  blend: 10\n+  blend: 35\n",
		Good: "-  blend: 10\n+  blend: 30\n",
	}, {
		Name:     "blend-at-slot",
		Severity: diag.Error,
		Doc:      `A straight line into a slot ends in a blend: the arm would never be in the slot.`,
		Guard:    true,
	}},
	Watch: func(c *Context) Watcher { return &blendWatcher{c: c} },
}

type blendWatcher struct {
	still
	c      *Context
	before geom.Vec  // where the last motion began
	last   move.Move // the last motion, which may blend into the next
	known  bool      // before is known
}

func (w *blendWatcher) See(m *move.Move, s *Scene) {
	if !m.Kind.IsMotion() {
		return
	}
	if w.last.Blend > 0 {
		w.corner(w.last.Base.Vec, m.Base.Vec)
	}
	if m.Blend > 0 && m.Target.Grid != "" && !m.Target.Approach {
		w.c.find("blend-at-slot", m.Place, "%sthe arm flies by %q with a radius of %g mm, wanted a stop", during(m), m.Target, m.Blend)
	}
	w.before, w.known = s.From.At, s.From.Known
	w.last = *m
}

// corner looks at the point where two ways meet.
func (w *blendWatcher) corner(at, next geom.Vec) {
	shorter := at.Dist(next)
	if w.known {
		shorter = min(shorter, w.before.Dist(at))
	}
	const hair = 1e-6
	if m := &w.last; m.Blend > shorter/2+hair {
		place := w.c.Layout.Motion.Source.Blend.Place
		w.c.find("blend-too-long", place, "%sthe blend of %g mm at %q is more than half of the shorter way there, which has %.3f mm", during(m), m.Blend, m.Target, shorter).
			note(m.Place, "the first one is on the way of this entry").
			hint("a blend of up to %.3g mm fits there", shorter/2)
	}
}

// during names the transfer that a move belongs to, for the head of a message.
func during(m *move.Move) string {
	if m.Transfer == 0 {
		return ""
	}
	return "transfer " + strconv.Itoa(m.Transfer) + ": "
}
