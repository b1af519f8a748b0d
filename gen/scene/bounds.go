package scene

import (
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
	for i, g := range l.Grids {
		lo, hi := g.Pattern.Bounds()
		least, most := g.Around(l.PartIn(g), b.follow.Lies(l.Grids[i]).Ways())
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

// armBounds sees the arm with all joints at 0, which is far from all that it does but not far off in size.
func (b *builder) armBounds(r *room) {
	a := b.job.Layout.Arm
	if a == nil {
		return
	}
	r.see(a.Base.T)
	for i := range a.Joints {
		if !a.Joints[i].Slides {
			r.see(a.Joints[i].Point)
		}
	}
}

// room is the least and the greatest coordinates of what was seen, the base's origin among it.
type room struct{ lo, hi geom.Vec }

func (r *room) see(v geom.Vec) { r.lo, r.hi = r.lo.Min(v), r.hi.Max(v) }

func (r *room) seeAll(b solid.Bounds) {
	r.see(b.Lo)
	r.see(b.Hi)
}
