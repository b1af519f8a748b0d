package check

import (
	"fmt"
	"math"
	"strings"

	"gridferry/gen/geom"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/gen/pattern"
	"gridferry/gen/solid"
	"gridferry/plan/diag"
)

// fingers keeps the tool's own boxes off the parts that stand around the slot where it works.
var fingers = Rule{
	Finds: []manual.Page{{
		Name:     "tool-hits-part",
		Severity: diag.Error,
		Doc: `A box of the tool ("body") reaches into a part that stands in a grid, on a straight line:
a finger has no room beside the slot, or opens too little for the part that it goes to take.
Fingers are open on the way in to a pick and on the way out from a place, and closed otherwise.
What the gripper holds is not compared with the fingers that hold it. Touching is allowed. The
finding says what pitch, and what opening, would do.`,
		Do:   `Set the slots farther apart, let the fingers open less, or change the order.`,
		Bad:  openBy("24"),
		Good: openBy("5"),
	}, {
		Name:     "tool-tight",
		Severity: diag.Warning,
		Doc: `A box of the tool has less than 2 mm of room beside a part that stands in a grid, on a
straight line; and so has an open finger beside the part that it goes to take. Common
practice, no source: a jaw's fingers need 2 mm on each side.`,
		Do: `Leave 2 mm on each side of a finger (common practice, no source), or touch the slots
anew to be sure of them.`,
		Bad:  openBy("15"),
		Good: openBy("13"),
	}},
	Watch: func(c *Context) Watcher {
		for _, t := range c.Layout.UsedTools() {
			if t.Body != nil {
				return &fingersWatcher{c: c}
			}
		}
		return nil
	},
}

// openBy is the example plan with two fingers on its jaw that open by so much.
func openBy(mm string) manual.Example {
	return manual.Example(`-      centre_of_gravity: [0, 0, 50]
+      centre_of_gravity: [0, 0, 50]
+      body:
+        palm: {from: [-20, -15, -120], to: [20, 15, -50]}
+        left: {from: [-19, -8, -50], to: [-15, 8, 10], open: [-` + mm + `, 0, 0]}
+        right: {from: [15, -8, -50], to: [19, 8, 10], open: [` + mm + `, 0, 0]}
`)
}

// fingerRoom is what a finger should have on each side, mm.
const fingerRoom = 2

type fingersWatcher struct {
	still
	motions
	c     *Context
	hit   move.Target // the last slot with a hit, without its approach,
	tight move.Target // and the last one that was tight
}

func (w *fingersWatcher) See(m *move.Move, s *Scene) {
	if m.Kind != move.Straight || s.carries.Body == nil || !s.toolMayHit(fingerRoom) {
		return
	}
	at := m.Target.Below()
	if b, h, found := s.toolStrikes(); found {
		if at != w.hit {
			w.hit = at
			w.c.find("tool-hits-part", m.Place, "%s%s is %.1f mm deep in %s, on the straight line to %q", during(m), b, h.depth, s.partAt(h.Target), m.Target).
				hinted(func() string { return s.moreRoom(b, h) })
		}
		return
	}
	if at == w.hit || at == w.tight {
		return
	}
	if b, h, found := s.toolNear(); found {
		w.tight = at
		w.c.find("tool-tight", m.Place, "%s%s has %.1f mm of room beside %s, on the straight line to %q", during(m), b, -h.depth, s.partAt(h.Target), m.Target).
			hint("common practice is %d mm on each side of a finger", fingerRoom)
	}
}

// toolStrikes is the first standing part that a box of the tool reaches into on the straight
// line that is seen.
func (s *Scene) toolStrikes() (by *Body, h struck, found bool) {
	found = s.meets(func(b *Body) float64 {
		if b.Part {
			return b.least()
		}
		at, hits := s.hitByTool(b)
		if !hits {
			return b.least()
		}
		one := *b
		by, h = &one, at
		return at.depth
	})
	return by, h, found
}

// toolNear is the first standing part that a box of the tool comes nearer to than fingers
// should; a tool that turns on its way is not looked at.
func (s *Scene) toolNear() (by *Body, h struck, found bool) {
	if s.turning() {
		return nil, struck{}, false
	}
	bodies := s.Bodies()
	s.fresh = false // they are made wider than they are
	for i := range bodies[:s.tools()] {
		b := &bodies[i]
		b.Off += fingerRoom - hair
		b.Bounds = b.Bounds.Wider(fingerRoom)
		if h, found := s.hitByTool(b); found {
			return b, h, true
		}
	}
	return nil, struck{}, false
}

// hitByTool is the first standing part that a box of the tool reaches into: of those at its
// own slot only the one that an open tool goes to take, or leaves behind.
func (s *Scene) hitByTool(b *Body) (struck, bool) {
	if b.Off > 0 && !b.Box.Moves() {
		return s.hit(b, true) // a palm or a cup may come as near as it likes to what it takes
	}
	return s.hitBeside(b, s.besides)
}

// besides is own, or the slot above it where the tool is open: what an open tool goes to take
// it must not meet.
func (s *Scene) besides(g *Standing) int {
	own := s.own(g, true)
	if own >= 0 && s.open {
		own += g.Grid.PerLayer()
	}
	return own
}

// toolMayHit is a cheap look along the straight line that is seen: where it says no, no box of
// the tool comes nearer to a standing part than that.
func (s *Scene) toolMayHit(room float64) bool {
	from := s.begin()
	return s.mayMeet(true, func(o *outline, k int) bool {
		if k >= o.tools {
			return false
		}
		box := o.box(k).Wider(room)
		all := box.Along(from, s.To.At)
		for _, i := range s.near(&all) {
			if g := s.Grids[i]; !g.empty() {
				here := g.shape(o).box(k).Wider(room)
				if g.mayHit(&here, from, s.To.At, s.besides(g)) {
					return true
				}
			}
		}
		return false
	})
}

// moreRoom says what would keep a box of the tool off the part that it hits.
func (s *Scene) moreRoom(b *Body, h struck) string {
	g := s.byName[h.Grid]
	stands := g.standing(h.Slot)
	box := stands.part.Solid(stands.middle)
	var ways []string
	if s.Grid == g && g.Grid.Index(h.Slot) == s.Slot {
		if !s.open || !b.Box.Moves() {
			return "see where the part is gripped (\"grip\" of the part, the height of the slot), and whether the box of the tool is as large as that"
		}
		out, _ := b.Box.Open.Unit()
		if more, ok := least(func(mm float64) bool { return s.clears(b, b.Box.Open.Add(out.Scale(mm)), &box) }); ok {
			return fmt.Sprintf("an opening of %.1f mm or more would do, where it is %.1f mm", b.Box.Open.Norm()+more, b.Box.Open.Norm())
		}
		return "the part is wider than the tool opens"
	}
	switch {
	case s.Grid != g:
	case g.Grid.Stacked() && h.Slot.Layer > g.Grid.Slot(s.Slot).Layer:
		return "take the upper layers first; a stop without layers does"
	case g.Grid.Stacked():
		ways = append(ways, "a larger \"gap\" between boxes")
	default:
		ways = append(ways, s.widerPitch(b, g, h, &box)...)
	}
	none := ""
	if opens := b.Box.Open.Norm(); s.open && opens > 0 {
		out, _ := b.Box.Open.Unit()
		less, ok := least(func(mm float64) bool { return s.clears(b, out.Scale(max(0, opens-mm)), &box) })
		if enough := math.Floor(10*(opens-less)) / 10; ok && enough > 0 {
			ways = append(ways, fmt.Sprintf("an opening of %.1f mm or less, where it is %.1f mm", enough, opens))
		} else {
			none = "no smaller opening does"
		}
	}
	switch {
	case ways != nil:
		return joined("; ", strings.Join(ways, ", or ")+", would do", none)
	case s.Grid == g && plainly(g).Fixed:
		return joined(": ", none, "use a tool with narrower fingers, or fewer slots of the plate")
	}
	return joined(": ", none, "set the slots farther apart, or use a tool with narrower fingers")
}

// plainly is the form of a grid's pattern without the corrections of single slots.
func plainly(g *Standing) pattern.Form {
	plain, _ := pattern.Uncorrected(g.Grid.Pattern)
	return plain.Form()
}

// joined is two pieces of a sentence, of which one may be "".
func joined(between, a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + between + b
}

// widerPitch says which pitch would keep a box off a neighbour in the same row or column, or, where slots lie
// in no straight rows, how far the two would have to be apart; nothing on a plate, whose pitch is its standard's.
func (s *Scene) widerPitch(b *Body, g *Standing, h struck, box *solid.Solid) []string {
	form := plainly(g)
	if form.Fixed {
		return nil
	}
	own := g.Grid.Slot(s.Slot)
	steps, along := int(h.Slot.Col-own.Col), "columns"
	switch rows := int(h.Slot.Row - own.Row); {
	case !form.Even():
		steps, along = 1, fmt.Sprintf("the slots %s and %s", g.Grid.Label(own), g.Grid.Label(h.Slot))
	case steps == 0:
		steps, along = rows, "rows"
	case rows != 0:
		return nil
	}
	way := g.Grid.At(h.Slot).Sub(g.Grid.At(own))
	out, ok := g.Grid.Frame.Base.R.Apply(way).Unit()
	if steps = max(steps, -steps); steps == 0 || !ok {
		return nil
	}
	more, ok := least(func(mm float64) bool {
		moved := *box
		moved.Centre = box.Centre.Add(out.Scale(mm))
		return s.clears(b, b.Box.Shift(s.open), &moved)
	})
	if !ok {
		return nil
	}
	return []string{fmt.Sprintf("%s %.1f mm or more apart, where they are %.1f mm", along, math.Ceil(10*(way.Norm()+more)/float64(steps))/10, way.Norm()/float64(steps))}
}

// clears reports whether a box of the tool, so far from where it is written, passes a part
// along the straight line that is seen.
func (s *Scene) clears(b *Body, by geom.Vec, part *solid.Solid) bool {
	from := s.begin()
	here := b.Box.Moved(&geom.Pose{R: s.To.Turn, T: from}, by)
	swept := here.Swept(s.To.At.Sub(from))
	return solid.DepthOver(part, &swept, touch) <= touch
}

// least is the least distance from 0 on with which something is clear, mm, as near as a
// hundredth; false where none up to a metre is.
func least(clear func(mm float64) bool) (float64, bool) {
	const most = 1000
	lo, hi := 0.0, float64(most)
	if !clear(hi) {
		return 0, false
	}
	for hi-lo > 0.01 {
		if middle := (lo + hi) / 2; clear(middle) {
			hi = middle
		} else {
			lo = middle
		}
	}
	return hi, true
}
