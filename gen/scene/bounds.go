package scene

import (
	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/solid"
)

// bounds is the room that holds all that is worth seeing; nothing but the base where there is nothing.
func (b *builder) bounds() {
	r := &room{}
	l, s := b.job.Layout, b.scene
	for _, f := range l.Frames {
		r.see(f.Base.T)
	}
	for _, k := range l.Boxes {
		box := solid.Box(k.Frame.Base, k.From, k.To)
		r.seeAll(box.Bounds())
	}
	for _, g := range l.Grids {
		lo, hi := g.Pattern.Bounds()
		least, most := g.Around(l.PartIn(g), b.follow.Lies(g).Ways())
		box := solid.Box(g.Frame.Base, lo.Add(least), hi.Add(most))
		r.seeAll(box.Bounds())
	}
	for _, p := range s.Poses {
		r.see(geom.Vec{X: p.Pose[0], Y: p.Pose[1], Z: p.Pose[2]})
	}
	for i := 0; i < len(s.Moves.At); i += 3 {
		r.see(geom.Vec{X: s.Moves.At[i], Y: s.Moves.At[i+1], Z: s.Moves.At[i+2]})
	}
	b.armBounds(r)
	s.Bounds = [2]Vec{vecOf(r.lo), vecOf(r.hi)}
}

// stances is at how many moves the arm is looked at for the bounds.
const stances = 64

// armBounds sees the arm as it stands at some of the moves, or with all joints at 0 where they say nothing of it.
func (b *builder) armBounds(r *room) {
	a, m := b.scene.Arm, &b.scene.Moves
	if a == nil {
		return
	}
	n := len(a.Joints)
	if m.Joints == nil {
		b.stance(r, arm.Readings{})
	}
	for i := 0; n*i < len(m.Joints); i += 1 + m.N/stances {
		var readings arm.Readings
		copy(readings[:], m.Joints[n*i:n*(i+1)])
		b.stance(r, readings)
	}
}

// stance sees where the joints' axes and the flange are, and the middles of links.
func (b *builder) stance(r *room, readings arm.Readings) {
	a := b.job.Layout.Arm
	links := a.Links(readings)
	behind := append([]geom.Pose{geom.Identity}, links[:]...)
	r.see(a.Base.T)
	r.see(behind[len(a.Joints)].Apply(a.Flange.T))
	for i, shapes := range a.Shapes {
		for _, s := range shapes {
			middle := s.At.T
			if s.Radius > 0 {
				middle = s.From.Add(s.To).Scale(0.5)
			}
			r.see(behind[i].Apply(middle))
		}
	}
	for _, rod := range b.scene.Arm.Rods {
		r.see(behind[rod.Behind].Apply(rod.From.vec()))
		r.see(behind[rod.Behind].Apply(rod.To.vec()))
	}
}

// room is the least and the greatest coordinates of what was seen, the base's origin among it.
type room struct{ lo, hi geom.Vec }

func (r *room) see(v geom.Vec) { r.lo, r.hi = r.lo.Min(v), r.hi.Max(v) }

func (r *room) seeAll(b solid.Bounds) {
	r.see(b.Lo)
	r.see(b.Hi)
}
