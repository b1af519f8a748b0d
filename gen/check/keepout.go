package check

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/gen/solid"
	"gridferry/plan/diag"
)

// keepOut keeps the tool and what it carries out of the cell's boxes.
var keepOut = Rule{
	Finds: []manual.Page{{
		Name:     "keep-out-hit",
		Severity: diag.Error,
		Doc: `The tool or the part in its gripper reaches into a keep-out box on a straight line, or
at the end of a travel. The part is a box of its size that hangs on the TCP as it
was gripped ("grip" of the part: how far the TCP is above its bottom; by default
half its height). The tool is a cylinder of "radius" about the line from the flange
to the TCP; where the cell gives no radius, only the TCP itself is looked at. Both
are swept along the move, and the box may be turned in any way: the room that
they sweep is compared with the box exactly, but for the cylinder, which is taken
as a prism of sixteen sides around it. Touching is allowed. A family whose travels are
lines, or move each axis for itself ("travel_path"), is held to that when its program
is written.`,
		Do: `Move the frame or the grid away from the box, approach from another side, or correct the
box.`,
		Bad:  "-  keep_out: {}\n+  keep_out: {wall: {frame: right, from: [-20, 10, 0], to: [160, 16, 30]}}\n",
		Good: "-  keep_out: {}\n+  keep_out: {wall: {frame: right, from: [-20, 8, 0], to: [160, 14, 30]}}\n",
	}, {
		Name:     "keep-out-chord",
		Severity: diag.Warning,
		Doc: `The straight line between the ends of a travel leads the tool or the part through a
keep-out box. The path of a travel is the controller's own, so this is no more
than a warning. A travel that turns the tool is looked at in every turn on the way, as
if it turned evenly.`,
		Do:   `Put the clear pose where the ways from it lead past the box, or add "entry" poses.`,
		Bad:  "-  keep_out: {}\n+  keep_out: {lamp: {from: [300, -60, 180], to: [360, -40, 260]}}\n",
		Good: "-  keep_out: {}\n+  keep_out: {lamp: {from: [300, -20, 340], to: [360, 20, 400]}}\n",
	}},
	Watch: watchKeepOut,
}

// forbidden is a keep-out box, placed in the base.
type forbidden struct {
	*layout.Box
	room   solid.Solid
	bounds solid.Bounds

	inFrame geom.Pose    // the base in the box's frame
	core    solid.Bounds // the box there, less slack
	shapes  shapes
}

// forbiddenBoxes is all of them, to be found by where they are.
type forbiddenBoxes struct {
	all   []forbidden
	index *solid.Index
}

func boxesOf(l *layout.Layout) (f forbiddenBoxes) {
	var bounds []solid.Bounds
	for _, b := range l.Boxes {
		room, here := solid.Box(b.Frame.Base, b.From, b.To), solid.Box(geom.Identity, b.From, b.To)
		core := here.Bounds()
		core = solid.Bounds{Lo: core.Lo.Add(slack), Hi: core.Hi.Sub(slack)}
		f.all = append(f.all, forbidden{Box: b, room: room, bounds: room.Bounds(), inFrame: b.Frame.Base.Inverse(), core: core})
		bounds = append(bounds, f.all[len(f.all)-1].bounds)
	}
	f.index = solid.NewIndex(bounds)
	return f
}

type keepOutWatcher struct {
	still
	motions
	c     *Context
	boxes forbiddenBoxes
	named move.Target // the last slot in a finding, without its approach
	in    *layout.Box // and the box

	ended *layout.Box // where the last motion ended, reported already; nil for none
}

func watchKeepOut(c *Context) Watcher {
	if len(c.Layout.Boxes) == 0 {
		return nil
	}
	return &keepOutWatcher{c: c, boxes: boxesOf(c.Layout)}
}

func (w *keepOutWatcher) See(m *move.Move, s *Scene) {
	began := w.ended
	w.ended = nil
	if !w.mayHit(s) {
		return
	}
	what, box, depth := w.hitOn(s)
	if box == nil {
		return
	}
	last, end, deep := w.hitAt(s.Ends())
	if end != nil {
		w.ended = end.Box
	}
	is, where := s.onTheWay()
	switch {
	case m.Kind == move.Straight:
		w.certain(m, what, is, box, depth, where)
	case end != nil:
		w.certain(m, last, "is", end, deep, "at")
	case box.Box == began: // where it comes from was reported
	case s.byJoints(m): // the way of the joints is looked at by itself
	case s.between == move.JointPath:
		w.chord(m, what, box, depth)
	default:
		s.advise(w.certain(m, what, is, box, depth, where), m)
	}
}

func (w *keepOutWatcher) chord(m *move.Move, what string, f *forbidden, depth float64) {
	w.c.find("keep-out-chord", m.Place, "%s%s would go through the keep-out box %q, %.1f mm deep, on a straight way to %q",
		during(m), what, f.Name, depth, m.Target).
		note(f.Place, "the box is defined here").
		hint("the controller chooses the path of a travel; put the clear pose where the ways from it lead past the box")
}

// mayHit is a cheap look: where it says no, hit finds nothing, for the same reason
// as among standing parts.
func (w *keepOutWatcher) mayHit(s *Scene) bool {
	from := s.begin()
	return s.mayMeet(true, func(o *outline, k int) bool {
		room := o.box(k).Along(from, s.To.At)
		for _, i := range w.boxes.index.Overlapping(&room) {
			if s.between == move.AxesPath {
				return true
			}
			f := &w.boxes.all[i]
			s.effort.made++
			here, way := f.inFrame.Apply(from), f.inFrame.R.Apply(s.To.At.Sub(from))
			if _, _, ok := f.shapes.of(o, &f.inFrame.R).box(k).Passage(&f.core, here, way); ok {
				return true
			}
		}
		return false
	})
}

// hitOn is the first box that something reaches into along the motion that is seen.
func (w *keepOutWatcher) hitOn(s *Scene) (what string, box *forbidden, depth float64) {
	if !s.meets(func(b *Body) float64 {
		if at, deep := w.hit(b); at != nil {
			what, box, depth = b.String(), at, deep
			return deep
		}
		return b.least()
	}) {
		return "", nil, 0
	}
	return what, box, depth
}

// hitAt is the first box that one of several bodies reaches into.
func (w *keepOutWatcher) hitAt(bodies []Body) (what string, box *forbidden, depth float64) {
	for i := range bodies {
		if box, depth := w.hit(&bodies[i]); box != nil {
			return bodies[i].String(), box, depth
		}
	}
	return "", nil, 0
}

// hit is the first box that a body reaches into, deeper than its least.
func (w *keepOutWatcher) hit(b *Body) (*forbidden, float64) {
	for _, k := range w.boxes.index.Overlapping(&b.Bounds) {
		f := &w.boxes.all[k]
		w.c.effort.made += effortPerBody
		if depth := solid.DepthOver(&f.room, &b.Swept, b.least()); depth > b.least() {
			return f, depth
		}
	}
	return nil, 0
}

func (w *keepOutWatcher) certain(m *move.Move, what, is string, f *forbidden, depth float64, where string) *report {
	at := m.Target.Below()
	if at == w.named && f.Box == w.in {
		return nil // once for a slot and the point above it
	}
	w.named, w.in = at, f.Box
	return w.c.find("keep-out-hit", m.Place, "%s%s %s in the keep-out box %q, %.1f mm deep, %s %q", during(m), what, is, f.Name, depth, where, m.Target).
		note(f.Place, "the box is defined here")
}
