package check

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
)

// outline is what the arm carries at one turn of the tool, the bodies of Scene.Bodies as
// upright boxes about the TCP. Most motions keep so far away from everything that the boxes
// prove it; only those that they cannot clear are looked at exactly. A plan has few
// outlines, and each costs as much as a look at one motion would. By bodies alone "check"
// takes 1.6 times as long.
type outline struct {
	turn, held int  // numbers of the turn and of the part that is held; turn is 0 for no outline
	from       int  // the number of the turn that it comes from; 0 where it does not turn
	open       bool // the gripper
	number     int  // its own, never used again

	bodies []outlined
	tools  int // how many of the bodies are the tool's; the part is behind them
}

// outlined is one body about the TCP, along the base's axes.
type outlined struct {
	solid.Solid
	box solid.Bounds
	far float64 // how far it reaches from the axis that it turns about
}

// outlines remembers the last few.
type outlines struct {
	known [8]outline
	last  int // the one asked for last
	next  int // where the next goes
	made  int
}

// outline is what the arm carries along the motion that is seen; where that turns the
// tool, the room that it takes up while it turns all around.
func (s *Scene) outline() *outline {
	from := 0
	if s.turning() {
		from = s.From.number
	}
	l := &s.outlines
	if o := &l.known[l.last]; o.is(from, s) {
		return o
	}
	for i := range l.known {
		if l.known[i].is(from, s) {
			l.last = i
			return &l.known[i]
		}
	}
	l.made++
	l.last, l.next = l.next, (l.next+1)%len(l.known)
	o := &l.known[l.last]
	s.setOutline(o, from, l.made)
	return o
}

func (o *outline) is(from int, s *Scene) bool {
	return o.turn == s.To.number && o.from == from && o.held == s.hands.load && o.open == s.open
}

// setOutline makes an outline anew, in the room that an old one leaves.
func (s *Scene) setOutline(o *outline, from, number int) {
	here := geom.Pose{R: s.To.Turn}
	*o = outline{from: from, turn: s.To.number, held: s.hands.load, open: s.open, number: number, bodies: o.bodies[:0], tools: s.tools()}
	var axis geom.Vec
	if from != 0 {
		axis, _ = s.To.Turn.Apply(s.whirls()[0]).Unit()
	}
	for k := range s.pieces() {
		b := outlined{Solid: s.piece(k, &here)}
		if from != 0 {
			b.Solid, b.far = b.Whirled(axis)
		}
		b.box = b.Bounds()
		o.bodies = append(o.bodies, b)
	}
}

// shape is an outline along the axes of another frame, about the TCP.
type shape struct {
	of    int // the outline's number, 0 for none
	boxes []solid.Bounds
}

// shapes remembers those that came near something last.
type shapes struct {
	known [8]shape
	next  int
}

// of is the shape of an outline in a frame, which is the same at every call; turn
// leads from the base into it.
func (l *shapes) of(o *outline, turn *geom.Rot) *shape {
	for i := range l.known {
		if l.known[i].of == o.number {
			return &l.known[i]
		}
	}
	k := &l.known[l.next]
	l.next = (l.next + 1) % len(l.known)
	turned := geom.Pose{R: *turn}
	k.of, k.boxes = o.number, k.boxes[:0]
	for i := range o.bodies {
		body := o.bodies[i].In(&turned)
		k.boxes = append(k.boxes, body.Bounds())
	}
	return k
}

// mayMeet is a cheap look along the motion that is seen, for what the arm carries: the
// tool too, or the part alone. Meets reports whether body k may meet something, by its
// box about the TCP in the base, and in any frame.
func (s *Scene) mayMeet(tool bool, meets func(o *outline, k int) bool) bool {
	o := s.outline()
	for k := len(o.bodies) - 1; k >= 0 && (tool || k >= o.tools); k-- {
		if meets(o, k) {
			return true
		}
	}
	return false
}

// box is that of a body about the TCP, along the base's axes.
func (o *outline) box(k int) *solid.Bounds { return &o.bodies[k].box }

func (k *shape) box(body int) *solid.Bounds { return &k.boxes[body] }

// mayHit is a cheap look for standing parts. Where it says no, hit finds none: an
// upright box around what moves reaches into one around a part by less than touch,
// and so does what is in the boxes.
func (s *Scene) mayHit(tool, atPlace bool) bool {
	from := s.begin()
	return s.mayMeet(tool, func(o *outline, k int) bool {
		room := o.box(k).Along(from, s.To.At)
		for _, i := range s.near(&room) {
			if g := s.Grids[i]; !g.empty() && (s.between == move.AxesPath || g.mayHit(g.shape(o).box(k), from, s.To.At, s.own(g, atPlace))) {
				return true
			}
		}
		return false
	})
}

func (s *Standing) shape(o *outline) *shape {
	if s.shapes == nil {
		s.shapes = new(shapes)
	}
	return s.shapes.of(o, &s.inGrid.R)
}

// mayHit is the same for one grid and one body, by its box about the TCP along the
// axes of the grid's frame.
func (s *Standing) mayHit(box *solid.Bounds, from, to geom.Vec, except int) bool {
	from, way := s.inGrid.Apply(from), s.inGrid.R.Apply(to.Sub(from))
	room := s.room
	room.Hi.Z = min(room.Hi.Z, s.highest()-slack.Z)
	begin, end, ok := box.Passage(&room, from, way)
	if !ok {
		return false
	}
	passed := box.Along(from.Add(way.Scale(begin)), from.Add(way.Scale(end)))
	half := s.half.Sub(slack)
	w := window{lo: passed.Lo.Sub(half).Sub(s.lift), hi: passed.Hi.Add(half).Sub(s.lift), own: except}
	own := s.own.Sub(slack)
	return s.find(&w, func(at slot.Slot) bool {
		middle := s.Grid.At(at).Add(s.lift)
		room := solid.Bounds{Lo: middle.Sub(own), Hi: middle.Add(own)}
		if s.lies.At(s.Grid.Index(at)) > 0 {
			box := s.box(at)
			room = box.Bounds()
			room = solid.Bounds{Lo: room.Lo.Add(slack), Hi: room.Hi.Sub(slack)}
		}
		_, _, ok := box.Passage(&room, from, way)
		return ok
	})
}
