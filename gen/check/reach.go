package check

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// reach holds the TCP inside the hollow cylinder that the arm reaches.
var reach = Rule{
	Finds: []manual.Page{{
		Name:     "out-of-reach",
		Severity: diag.Error,
		Doc: `The TCP ends a move outside "machine.reach", or a straight line leads outside: the
room between two radii about the base's Z axis and two heights. A straight line
is looked at where it comes nearest to the axis, too. The message says how much
is missing. Inside the room a pose may still be impossible for the arm's joints.`,
		Do:   `Move the frame nearer or farther away, leave slots out, or correct "machine.reach".`,
		Bad:  "-    reach: {radius: [150, 600], height: [-20, 650]}\n+    reach: {radius: [150, 400], height: [-20, 650]}\n",
		Good: "-    reach: {radius: [150, 600], height: [-20, 650]}\n+    reach: {radius: [150, 450], height: [-20, 650]}\n",
	}, {
		Name:     "chord-out-of-reach",
		Severity: diag.Warning,
		Doc: `The straight line between the ends of a travel passes nearer to the base's axis than
the arm reaches. The path of a travel is the controller's own, so this is no more
than a warning; a pose on the way around makes it sure.`,
		Do:   `Put the clear pose where both ways lead around the arm, or add "entry" poses.`,
		Bad:  "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [-300, 0, 300]}\n",
		Good: "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [200, 0, 300]}\n",
	}},
	Watch: func(c *Context) Watcher {
		m := &c.Layout.Cell.Machine
		if !m.Radius.IsSet() && !m.Height.IsSet() {
			return nil
		}
		return newReachWatcher(c, m)
	},
}

type reachWatcher struct {
	still
	motions
	c              *Context
	radius, height plan.Pair
	near, far      float64     // squares of the radii, -1 and infinite where there are none
	low, high      float64     // the heights, infinite where there are none
	named          move.Target // the last slot in a finding, without its approach
}

func newReachWatcher(c *Context, m *plan.Machine) *reachWatcher {
	w := &reachWatcher{c: c, radius: m.Radius, height: m.Height, near: -1, far: math.Inf(1), low: math.Inf(-1), high: math.Inf(1)}
	if from, to := m.Radius.V[0], m.Radius.V[1]; m.Radius.IsSet() {
		w.near, w.far = from*math.Abs(from), to*math.Abs(to)
	}
	if m.Height.IsSet() {
		w.low, w.high = m.Height.V[0], m.Height.V[1]
	}
	return w
}

// hair is what rounding may do to a pose on the very edge, mm.
const hair = 1e-6

func (w *reachWatcher) See(m *move.Move, s *Scene) {
	if w.end(m, s.To.At) || !s.From.Known || w.clear(s.From.At, s.To.At) {
		return
	}
	from, to := s.From.At, s.To.At
	near := axisDistance(from, to)
	missing := w.radius.V[0] - near
	ends := min(axisDistance(from, from), axisDistance(to, to))
	if missing <= hair || ends <= near {
		return // in reach, or an end is as near and was reported
	}
	if s.between == move.LinePath {
		r := w.c.find("out-of-reach", m.Place, "%sthe straight line to %q passes %.1f mm from the base's Z axis, %.1f mm too near for the arm", during(m), m.Target, near, missing).
			note(w.radius.Place, "the reach is given here")
		s.advise(r, m)
		return
	}
	w.c.find("chord-out-of-reach", m.Place, "%sthe way to %q passes %.1f mm from the base's Z axis, %.1f mm too near for the arm", during(m), m.Target, near, missing).
		note(w.radius.Place, "the reach is given here").
		hint("the controller chooses the path of a travel; put the clear pose where both ways lead around the arm")
}

// clear is a cheap look at the way: true where it surely stays away from the axis
// as far as it has to, since the line that it lies on does, or where it surely comes
// no nearer than at its beginning. Products of lengths spare it the roots.
func (w *reachWatcher) clear(from, to geom.Vec) bool {
	if w.near <= 0 {
		return true
	}
	dx, dy := to.X-from.X, to.Y-from.Y
	away := float64(from.X*dx) + float64(from.Y*dy)
	cross := float64(from.X*dy) - float64(from.Y*dx)
	return away >= 0 || float64(cross*cross) >= w.near*(float64(dx*dx)+float64(dy*dy))
}

// inside is a cheap look at a place: true where it is in reach without a hair's doubt.
func (w *reachWatcher) inside(at geom.Vec) bool {
	away := float64(at.X*at.X) + float64(at.Y*at.Y)
	return away >= w.near && away <= w.far && at.Z >= w.low && at.Z <= w.high
}

// end holds the end of a motion to the reach; true when it is outside.
func (w *reachWatcher) end(m *move.Move, at geom.Vec) bool {
	if w.inside(at) {
		return false
	}
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
	case value < from-hair:
		missing, word = from-value, "less"
	case value > to+hair:
		missing, word = value-to, "more"
	default:
		return false
	}
	if at := m.Target.Below(); at != w.named { // once for a slot and the point above it
		w.named = at
		w.c.find("out-of-reach", m.Place, "%sat %q the TCP is %.1f mm %s, %.1f mm %s than the arm's %g to %g mm",
			during(m), m.Target, value, where, missing, word, from, to).
			note(limit.Place, "the reach is given here")
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
