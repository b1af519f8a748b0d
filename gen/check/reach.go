package check

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// reach holds the TCP inside the hollow cylinder that the arm reaches.
var reach = Rule{
	Finds: []Find{{
		Name:     "out-of-reach",
		Severity: diag.Error,
		Doc: `The TCP ends a move outside "machine.reach", or a straight line leads outside: the
room between two radii about the base's Z axis and two heights. A straight line
is looked at where it comes nearest to the axis, too. The message says how much
is missing. Inside the room a pose may still be impossible for the arm's joints.`,
		Bad:  "-    reach: {radius: [150, 600], height: [-20, 650]}\n+    reach: {radius: [150, 400], height: [-20, 650]}\n",
		Good: "-    reach: {radius: [150, 600], height: [-20, 650]}\n+    reach: {radius: [150, 450], height: [-20, 650]}\n",
	}, {
		Name:     "chord-out-of-reach",
		Severity: diag.Warning,
		Doc: `The straight line between the ends of a travel passes nearer to the base's axis than
the arm reaches. The path of a travel is the controller's own, so this is no more
than a warning; a waypoint on the way around makes it sure.`,
		Bad:  "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [-300, 0, 300]}\n",
		Good: "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [200, 0, 300]}\n",
	}},
	Watch: func(c *Context) Watcher {
		m := &c.Layout.Cell.Machine
		if !m.Radius.IsSet() && !m.Height.IsSet() {
			return nil
		}
		return &reachWatcher{c: c, radius: m.Radius, height: m.Height}
	},
}

type reachWatcher struct {
	still
	motions
	c              *Context
	radius, height plan.Pair
	told           move.Target // the last slot that was told, without its approach
}

// far is what rounding may do to a pose on the very edge, mm.
const far = 1e-6

func (w *reachWatcher) See(m *move.Move, s *Scene) {
	if w.end(m, s.To.At) || !s.From.Known || !w.radius.IsSet() {
		return
	}
	from, to := s.From.At, s.To.At
	near := axisDistance(from, to)
	missing := w.radius.V[0] - near
	ends := min(axisDistance(from, from), axisDistance(to, to))
	if missing <= far || ends <= near {
		return // in reach, or an end is as near and was told
	}
	if m.Kind == move.Straight {
		w.c.find("out-of-reach", m.Place, "%sthe straight line to %q passes %.1f mm from the base's Z axis, %.1f mm too near for the arm", during(m), m.Target, near, missing).
			note(w.radius.Place, "the reach stands here")
		return
	}
	w.c.find("chord-out-of-reach", m.Place, "%sthe way to %q passes %.1f mm from the base's Z axis, %.1f mm too near for the arm", during(m), m.Target, near, missing).
		note(w.radius.Place, "the reach stands here").
		hint("the controller chooses the path of a travel; put the clear waypoint where both ways lead around the arm")
}

// end holds the end of a motion to the reach; true when it is outside.
func (w *reachWatcher) end(m *move.Move, at geom.Vec) bool {
	outside := false
	if w.radius.IsSet() {
		outside = w.within(m, at, "from the base's Z axis", axisDistance(at, at), w.radius)
	}
	if w.height.IsSet() && !outside {
		outside = w.within(m, at, "above the base", at.Z, w.height)
	}
	return outside
}

func (w *reachWatcher) within(m *move.Move, at geom.Vec, where string, value float64, limit plan.Pair) bool {
	from, to := limit.V[0], limit.V[1]
	missing, word := 0.0, ""
	switch {
	case value < from-far:
		missing, word = from-value, "less"
	case value > to+far:
		missing, word = value-to, "more"
	default:
		return false
	}
	spot := m.Target
	spot.Approach = false
	if spot != w.told { // once for a slot and the point above it
		w.told = spot
		w.c.find("out-of-reach", m.Place, "%sat %q the TCP is %.1f mm %s, %.1f mm %s than the arm's %g to %g mm",
			during(m), m.Target, value, where, missing, word, from, to).
			note(limit.Place, "the reach stands here")
	}
	return true
}

// axisDistance is how near the segment from p to q comes to the Z axis, mm:
// the distance of a point from a segment, in the plane.
func axisDistance(p, q geom.Vec) float64 {
	dx, dy := q.X-p.X, q.Y-p.Y
	t := 0.0
	if square := float64(dx*dx) + float64(dy*dy); square > 0 {
		t = -(float64(p.X*dx) + float64(p.Y*dy)) / square
		t = math.Max(0, math.Min(1, t))
	}
	return math.Hypot(p.X+float64(t*dx), p.Y+float64(t*dy))
}
