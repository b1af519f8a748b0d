package check

import (
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// flyByRadius compares fly-by radii with the distances that they have.
var flyByRadius = Rule{
	Finds: []Find{{
		Name:     "fly-by-too-long",
		Severity: diag.Error,
		Doc: `The fly-by radius at a point is longer than half the shorter of the two ways that
meet there. Two such points beside each other would overlap, and a controller
refuses the move, shortens the radius or cuts the corner: nobody knows which.`,
		Bad:  "-  fly_by: 10\n+  fly_by: 35\n",
		Good: "-  fly_by: 10\n+  fly_by: 30\n",
	}, {
		Name:     "fly-by-at-slot",
		Severity: diag.Error,
		Doc:      `A straight line into a slot ends in a fly-by: the arm would never be in the slot.`,
		Guard:    true,
	}},
	Watch: func(c *Context) Watcher { return &flyByWatcher{c: c} },
}

type flyByWatcher struct {
	still
	motions
	c      *Context
	before geom.Vec // where the last motion began
	known  bool     // before is known
	last   flyBy    // where the last motion ended
}

// flyBy is what is kept of a motion that may fly by into the next.
type flyBy struct {
	at       geom.Vec
	flyBy    float64 // mm; 0 is a stop-point, and then nothing else is kept
	target   move.Target
	transfer int
	place    diag.Place
}

func (w *flyByWatcher) See(m *move.Move, s *Scene) {
	if w.last.flyBy > 0 {
		w.corner(m.Base.Vec)
	}
	if m.FlyBy > 0 && m.Target.Grid != "" && !m.Target.Approach {
		w.c.find("fly-by-at-slot", m.Place, "%sthe arm flies by %q with a radius of %g mm, wanted a stop", during(m), m.Target, m.FlyBy)
	}
	if m.FlyBy <= 0 {
		w.last.flyBy = 0
		return
	}
	w.before, w.known = s.From.At, s.From.Known
	w.last = flyBy{m.Base.Vec, m.FlyBy, m.Target, m.Transfer, m.Place}
}

// corner looks at the point where two ways meet.
func (w *flyByWatcher) corner(next geom.Vec) {
	last := &w.last
	shorter := last.at.Dist(next)
	if w.known {
		shorter = min(shorter, w.before.Dist(last.at))
	}
	if last.flyBy > shorter/2+hair {
		place := w.c.Layout.Motion.Source.FlyBy.Place
		w.c.find("fly-by-too-long", place, "%sthe fly-by of %g mm at %q is more than half of the shorter way there, which has %.3f mm",
			ofTransfer(last.transfer), last.flyBy, last.target, shorter).
			note(last.place, "the first one is on the way of this entry").
			hint("a fly-by of up to %.3g mm fits there", shorter/2)
	}
}

// during names the transfer that a move belongs to, for the head of a message.
func during(m *move.Move) string { return ofTransfer(m.Transfer) }

func ofTransfer(n int) string {
	if n == 0 {
		return ""
	}
	return "transfer " + strconv.Itoa(n) + ": "
}
