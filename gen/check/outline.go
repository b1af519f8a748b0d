package check

import (
	"gridferry/gen/geom"
	"gridferry/gen/solid"
)

// outline is the tool and the part in its jaw at one turn of the tool, as upright
// boxes about the TCP. Most motions keep so far away from everything that the boxes
// prove it; only those that they cannot clear are looked at exactly. A plan has few
// outlines, and each costs as much as a look at one motion would.
type outline struct {
	turn, held int // numbers of the turn and of the part in the jaw; turn is 0 for no outline
	number     int // its own, never used again

	tool, part solid.Solid // about the TCP, along the base's axes
	toolBox    solid.Bounds
	partBox    solid.Bounds
	holds      bool // there is a part, of known size
}

// outlines remembers the last few.
type outlines struct {
	known [8]outline
	last  int // the one asked for last
	next  int // where the next goes
	made  int
}

// outline is what the arm carries, turned as at a station.
func (s *Scene) outline(at *Station) *outline {
	l := &s.outlines
	if o := &l.known[l.last]; o.is(at, &s.Jaw) {
		return o
	}
	for i := range l.known {
		if l.known[i].is(at, &s.Jaw) {
			l.last = i
			return &l.known[i]
		}
	}
	l.made++
	l.last, l.next = l.next, (l.next+1)%len(l.known)
	l.known[l.last] = s.newOutline(at, l.made)
	return &l.known[l.last]
}

func (o *outline) is(at *Station, j *Jaw) bool { return o.turn == at.number && o.held == j.number }

func (s *Scene) newOutline(at *Station, number int) outline {
	here := geom.Pose{R: at.Turn}
	o := outline{turn: at.number, held: s.Jaw.number, number: number, tool: s.tool(&here), holds: s.Jaw.number != 0}
	o.toolBox = o.tool.Bounds()
	if o.holds {
		o.part = s.block(&here)
		o.partBox = o.part.Bounds()
	}
	return o
}

// shape is an outline along the axes of a grid's frame, about the TCP.
type shape struct {
	of         int // the outline's number, 0 for none
	tool, part solid.Bounds
}

// shapes remembers those that came near a grid last.
type shapes struct {
	known [4]shape
	next  int
}

func (s *Standing) shape(o *outline) *shape {
	if s.shapes == nil {
		s.shapes = new(shapes)
	}
	l := s.shapes
	for i := range l.known {
		if l.known[i].of == o.number {
			return &l.known[i]
		}
	}
	k := &l.known[l.next]
	l.next = (l.next + 1) % len(l.known)
	turned := geom.Pose{R: s.inGrid.R}
	tool, part := o.tool.In(&turned), o.part.In(&turned)
	*k = shape{o.number, tool.Bounds(), part.Bounds()}
	return k
}

// mayHit is a cheap look for standing parts along the motion that is seen. Where it
// says no, hit finds none: an upright box about a body reaches into one about a
// part, along some axis, by less than touch, and so does the body into the part.
func (s *Scene) mayHit(tool, atPlace bool) bool {
	from := s.begin()
	return s.mayHitTurned(&s.To, from, tool, atPlace) || s.turning() && s.mayHitTurned(&s.From, from, tool, atPlace)
}

func (s *Scene) mayHitTurned(turned *Station, from geom.Vec, tool, atPlace bool) bool {
	o := s.outline(turned)
	if o.holds {
		room := o.partBox.Along(from, s.To.At)
		for _, i := range s.near(&room) {
			if g := s.Grids[i]; !g.empty() && g.mayHit(&g.shape(o).part, from, s.To.At, s.own(g, atPlace)) {
				return true
			}
		}
	}
	if !tool {
		return false
	}
	room := o.toolBox.Along(from, s.To.At)
	for _, i := range s.near(&room) {
		if g := s.Grids[i]; !g.empty() && g.mayHit(&g.shape(o).tool, from, s.To.At, s.own(g, atPlace)) {
			return true
		}
	}
	return false
}

// mayHit is the same for one grid and one body: whether a part stands where the box
// about the body goes.
func (s *Standing) mayHit(box *solid.Bounds, from, to geom.Vec, own int) bool {
	room := box.Along(s.inGrid.Apply(from), s.inGrid.Apply(to))
	half := s.half.Sub(slack)
	return s.find(&window{lo: room.Lo.Sub(half).Sub(s.lift), hi: room.Hi.Add(half).Sub(s.lift), own: own}, anySlot)
}
