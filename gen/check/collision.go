package check

import (
	"fmt"
	"strings"

	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/gen/solid"
	"gridferry/plan/diag"
)

// collision keeps what moves away from the parts that stand in the grids.
var collision = Rule{
	Finds: []manual.Page{{
		Name:     "part-hits-part",
		Severity: diag.Error,
		Doc: `The part in the gripper reaches into a part that stands in a grid, on the straight line
to or from a slot, or at the end of a travel: the pitch is smaller than the part,
layers are closer than it is high, two grids stand in the same room. At the end of
a travel the same holds for the tool (a cylinder of its "radius" about the line
from flange to TCP, or the TCP alone). A part stands in its slot as the
grid says, its middle above the slot's position, as high as "grip" says (by default
half its height below the TCP, half above), or as the tool put it there
("part-turned"); every grid holds what stands there at that moment. Touching is allowed. A family whose travels are lines, or move each axis for
itself ("travel_path"), is held to that when its program is written.`,
		Do: `Set the slots farther apart, change the order so that the neighbour comes later, or
make "approach" longer.`,
		Bad: "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n" +
			"+  rack: {frame: right, rows: 2, columns: 3, pitch: [25, 60], first: [30, 30, 15], part: block}\n",
		Good: "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n" +
			"+  rack: {frame: right, rows: 2, columns: 3, pitch: [30, 60], first: [30, 30, 15], part: block}\n",
	}, {
		Name:     "travel-over-parts",
		Severity: diag.Warning,
		Doc: `The straight line between the ends of a travel leads the tool or the part in its gripper
through parts that stand in a grid: the lowest point of both is lower than the
tallest thing on the way. The path of a travel is the controller's own, so this is
no more than a warning; a higher clear pose or a longer approach makes it sure.`,
		Do:   `Put the clear pose higher, or approach from higher up.`,
		Bad:  "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [280, 210, 60]}\n",
		Good: "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [280, 210, 110]}\n",
	}},
	Watch: func(c *Context) Watcher {
		if c.said("approach-below-part") {
			return nil // that is why, and was said
		}
		return &collisionWatcher{c: c}
	},
}

type collisionWatcher struct {
	still
	motions
	c     *Context
	named move.Target // the last slot in a finding, without its approach

	ended move.Target // the slot of the part in which the last travel ended, reported already
}

func (w *collisionWatcher) See(m *move.Move, s *Scene) {
	if m.Kind == move.Straight {
		w.straight(m, s)
	} else {
		w.travel(m, s)
	}
}

// straight looks at the part only: the fingers have to go down between the
// parts, and how wide they are there nobody says.
func (w *collisionWatcher) straight(m *move.Move, s *Scene) {
	if !s.holding() || !s.mayHit(false, true) {
		return
	}
	if what, h, found := s.struckOn(true); found && h.Target != w.c.pinned && !w.hovers(m, &h) {
		is, where := s.onTheWay()
		w.certain(m, s, what, is, h, where)
	}
}

// hovers reports whether a part above the slot was put there without support, which was
// said.
func (w *collisionWatcher) hovers(m *move.Move, h *struck) bool {
	at := h.Slot
	at.Layer = m.Target.Slot.Layer
	return h.Grid == m.Target.Grid && at == m.Target.Slot && w.c.said("no-support")
}

func (w *collisionWatcher) travel(m *move.Move, s *Scene) {
	began := w.ended
	w.ended = move.Target{}
	if !s.mayHit(true, false) {
		return
	}
	what, first, found := s.struckOn(false)
	if !found {
		return
	}
	if what, h, found := s.hitAny(s.Ends()); found {
		w.ended = h.Target
		w.certain(m, s, what, "is", h, "at")
		return
	}
	if first.Target == began || s.byJoints(m) {
		return // where it comes from was reported; the way of the joints is looked at by itself
	}
	if s.between != move.JointPath {
		is, where := s.onTheWay()
		s.advise(w.certain(m, s, what, is, first, where), m)
		return
	}
	w.c.find("travel-over-parts", m.Place, "%s%s would go %.1f mm deep into %s on a straight way to %q",
		during(m), what, first.depth, s.partAt(first.Target), m.Target).
		hint("the controller chooses the path of a travel; put the clear pose higher, or approach from higher up")
}

func (w *collisionWatcher) certain(m *move.Move, s *Scene, what, is string, h struck, where string) *report {
	at := m.Target.Below()
	if at == w.named {
		return nil // once for a slot and the point above it
	}
	w.named = at
	w.c.harm[m.Place] = true
	return w.c.find("part-hits-part", m.Place, "%s%s %s %.1f mm deep in %s, %s %q", during(m), what, is, h.depth, s.partAt(h.Target), where, m.Target).
		hinted(func() string { return s.turnedOnes(m, h.Target) })
}

// turnedOnes says which of two parts that hit each other lies turned; "" for neither.
func (s *Scene) turnedOnes(m *move.Move, struck move.Target) string {
	var words []string
	say := func(g *Standing, number int, at move.Target) {
		if lie := g.lies.Way(number); lie != nil && lie.Turned() >= leastTurn {
			words = append(words, fmt.Sprintf("%s lies turned by %s", s.partAt(at), degrees(lie.Turned())))
		}
	}
	g := s.byName[struck.Grid]
	say(g, g.lies.At(g.Grid.Index(struck.Slot)), struck)
	if s.Grid != nil && s.Gripper.Holds && s.Gripper.From != m.Target {
		say(s.Grid, s.Lies(m.Target.Slot, &s.To), m.Target.Below())
	}
	if words == nil {
		return ""
	}
	return strings.Join(append(words, turnAdvice), "; ")
}

// struck is a standing part that something reaches into.
type struck struct {
	move.Target
	depth float64
}

// struckOn is the first standing part that something reaches into along the motion that
// is seen: on a straight line only what the gripper holds, which is at its own place.
func (s *Scene) struckOn(straight bool) (what string, h struck, found bool) {
	found = s.meets(func(b *Body) float64 {
		if straight && !b.Part {
			return b.least()
		}
		at, found := s.hit(b, straight)
		if !found {
			return b.least()
		}
		what, h = b.String(), at
		return at.depth
	})
	return what, h, found
}

func (s *Scene) hitAny(bodies []Body) (what string, h struck, found bool) {
	for i := range bodies {
		if h, found := s.hit(&bodies[i], false); found {
			return bodies[i].String(), h, true
		}
	}
	return "", struck{}, false
}

// hit is the first standing part that a body reaches into on its way, the
// grids in the order of the plan. At its own place it may reach into what
// stands there and above it: that is wrong too, but other rules report it.
func (s *Scene) hit(b *Body, atPlace bool) (struck, bool) {
	return s.hitBeside(b, func(g *Standing) int { return s.own(g, atPlace) })
}

// hitBeside is the first standing part that a body reaches into, but for those in a slot of
// each grid and above it; -1 for none.
func (s *Scene) hitBeside(b *Body, own func(g *Standing) int) (struck, bool) {
	for _, i := range s.near(&b.Bounds) {
		g := s.Grids[i]
		if at, depth, found := g.hit(b, own(g)); found {
			return struck{move.Target{Grid: g.Grid.Name, Slot: at, Layered: g.Grid.Layered()}, depth}, true
		}
	}
	return struck{}, false
}

// own is the slot of a grid that the move works at, where it is at its own place;
// -1 for none.
func (s *Scene) own(g *Standing, atPlace bool) int {
	if atPlace && g == s.Grid && (g.Full.Has(s.Slot) || s.Gripper.From.Grid == g.Grid.Name && g.Grid.Index(s.Gripper.From.Slot) == s.Slot) {
		return s.Slot
	}
	return -1
}

// near is the numbers of the grids whose bounds a box overlaps.
func (s *Scene) near(box *solid.Bounds) []int {
	all := s.rooms().Overlapping(box)
	s.effort.made += len(all)
	return all
}

// rooms is the grids, to be found by where they are.
func (s *Scene) rooms() *solid.Index {
	if s.index == nil {
		s.newIndex()
	}
	return s.index
}

func (s *Scene) newIndex() {
	bounds := make([]solid.Bounds, len(s.Grids))
	for i, g := range s.Grids {
		bounds[i], g.company = g.bounds, nil
	}
	s.effort.made += len(bounds)
	s.index = solid.NewIndex(bounds)
}
