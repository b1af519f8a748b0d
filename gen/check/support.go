package check

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
)

// What a part needs under it. Both figures are common practice, no source.
const (
	leastBase = 0.6  // of its base that rests on others
	contact   = 0.01 // of it, with which it rests on another at all
	sheet     = 5.0  // mm between one part and the next, at most: a sheet of card
)

// stands is a part as it stands somewhere, in the base.
type stands struct {
	part   *layout.Part
	middle geom.Pose
}

func (s *Standing) stands(at slot.Slot, p *layout.Part, lie *layout.Lie) stands {
	return stands{p, s.Grid.Frame.Base.Mul(s.Grid.Pose(at, p, lie))}
}

// standing is the part that is in a slot, or the one that it is meant for.
func (s *Standing) standing(at slot.Slot) stands {
	i := s.Grid.Index(at)
	if lie := s.lies.Way(s.lies.At(i)); lie != nil && s.Full.Has(i) {
		return s.stands(at, lie.Part, lie)
	}
	return s.stands(at, s.part, nil)
}

// rests is the area with which one part rests on another, mm², and the share of its base
// that this is: 0 where the other does not end where it begins.
func (a *stands) rests(on *stands) (area, share float64) {
	there := a.middle.Inverse().Mul(on.middle)
	const level = 0.98 // the cosine of the tilt between a base and a top
	top := there.Apply(geom.Vec{Z: on.part.Size.Z / 2})
	if there.R[2][2] < level || math.Abs(top.Z+a.part.Size.Z/2) > sheet+touch {
		return 0, 0
	}
	outline := on.part.Outline()
	for i := range outline {
		outline[i] = there.Apply(outline[i])
	}
	base := a.part.Outline()
	area = extent(within(outline, base))
	return area, area / extent(base)
}

// extent is the area of a polygon seen from above.
func extent(p []geom.Vec) float64 {
	twice := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		twice += float64(a.X*b.Y) - float64(a.Y*b.X)
	}
	return math.Abs(twice) / 2
}

// within is what of a polygon lies within a convex one whose corners go counter-clockwise,
// cut off at one side after the other (Sutherland, Hodgman, CACM 17(1), 1974).
func within(p, convex []geom.Vec) []geom.Vec {
	for i, a := range convex {
		along := convex[(i+1)%len(convex)].Sub(a)
		inside := func(v geom.Vec) float64 { return along.Cross(v.Sub(a)).Z }
		var kept []geom.Vec
		for k, v := range p {
			next := p[(k+1)%len(p)]
			here, there := inside(v), inside(next)
			if here >= 0 {
				kept = append(kept, v)
			}
			if (here >= 0) != (there >= 0) {
				kept = append(kept, v.Add(next.Sub(v).Scale(here/(here-there))))
			}
		}
		p = kept
	}
	return p
}

// bearing is the share of a part's base that rests on the parts under it, of some grids,
// and the share that would if all their slots were full.
func bearing(grids []*Standing, a *stands) (is, could float64) {
	touching(grids, a, -1, true, func(g *Standing, at slot.Slot) bool {
		b := g.standing(at)
		_, share := a.rests(&b)
		if could += share; g.Full.Has(g.Grid.Index(at)) {
			is += share
		}
		return false
	})
	return is, could
}

// onTop is a part of a grid, or of those near it, that rests on another one.
func (s *Scene) onTop(g *Standing, a *stands) (on *Standing, in slot.Slot) {
	touching(s.company(g), a, 1, false, func(g *Standing, at slot.Slot) bool {
		b := g.standing(at)
		_, share := b.rests(a)
		if share > contact {
			on, in = g, at
		}
		return share > contact
	})
	return on, in
}

// touching goes through the slots of some grids, full or all, whose parts may begin or
// end where a part ends above or, with side -1, begins below.
func touching(grids []*Standing, a *stands, side float64, all bool, look func(*Standing, slot.Slot) bool) {
	half := a.part.Size.Scale(0.5)
	slab := solid.Block(a.middle.Mul(geom.Pose{R: geom.IdentityRot(), T: geom.Vec{Z: side * half.Z}}), geom.Vec{X: half.X, Y: half.Y, Z: sheet})
	room := slab.Bounds()
	for _, g := range grids {
		if g.effort.made++; g.effort.over() {
			return
		}
		if !g.bounds.Overlaps(&room) || g.empty() && !all {
			continue
		}
		in := slab.In(&g.inGrid)
		here := in.Bounds()
		w := window{lo: here.Lo.Sub(g.half).Sub(g.lift), hi: here.Hi.Add(g.half).Sub(g.lift), own: -1, all: all}
		g.find(&w, func(at slot.Slot) bool { g.effort.made += effortPerBase; return look(g, at) })
	}
}

// company is the grids that may have parts where a grid has them, or right above or
// below: itself first, and mostly no other.
func (s *Scene) company(g *Standing) []*Standing {
	if s.index == nil {
		s.newIndex() // then grids reach farther than when this was asked last
	}
	if g.company == nil {
		g.company = []*Standing{g}
		room, around := g.all(), g.bounds.Wider(sheet)
		for _, i := range s.near(&around) {
			if s.effort.made += effortPerBody; s.effort.over() {
				break
			}
			other := s.Grids[i].all()
			if s.Grids[i] != g && s.Grids[i].part.Sized() && solid.DepthOver(&room, &other, -sheet) > -sheet {
				g.company = append(g.company, s.Grids[i])
			}
		}
	}
	return g.company
}

// alone reports whether that is no other grid.
func (s *Scene) alone(g *Standing) bool { return len(s.company(g)) == 1 }

// all is the room of all parts that could stand in the grid, in the base.
func (s *Standing) all() solid.Solid { return solid.Box(s.Grid.Frame.Base, s.room.Lo, s.room.Hi) }

// hovers is how much of its base a part rests on that is put into a slot, where that is
// too little; a part of a grid's first layer may stand on the bench, unless it is on the
// slots of others, or a box of a stack whose first layer is.
func (s *Scene) hovers(g *Standing, at slot.Slot, p *layout.Part, lie *layout.Lie) (share float64, hovers bool) {
	below := slot.Slot{Row: at.Row, Col: at.Col, Layer: at.Layer - 1}
	alone, full := s.alone(g), at.Layer > 0 && g.Full.Has(g.Grid.Index(below))
	switch {
	case at.Layer == 0 && alone:
		return 1, false
	case !p.Sized():
		return 0, at.Layer > 0 && !full
	case full && alone && g.lies.Ways() == nil && p == g.part && g.Grid.Piled() && g.stacks():
		return 1, false
	}
	grids := s.company(g)
	if at.Layer == 0 {
		if grids = grids[1:]; !g.near(at, grids) && !g.laidOn(grids) { // of its own grid nothing is lower
			return 1, false
		}
	}
	a := g.stands(at, p, lie)
	is, could := bearing(grids, &a)
	return is, is < leastBase && (at.Layer > 0 || could > contact || g.laidOn(grids))
}

// laidOn reports whether the grid is a stack whose first layer lies on the slots of others.
// All its boxes are on one level, so none of them can stand on the bench beside those.
func (s *Standing) laidOn(grids []*Standing) bool {
	if s.Grid.Stacked() && s.onOthers == nil {
		var on bool
		for i := 0; i < s.Grid.PerLayer() && !on && !s.effort.over(); i++ {
			a := s.stands(s.Grid.Slot(i), s.part, nil)
			_, could := bearing(grids, &a)
			on = could > contact
		}
		s.onOthers = &on
	}
	return s.onOthers != nil && *s.onOthers
}

// near is a cheap look for grids that may have parts under a slot.
func (s *Standing) near(at slot.Slot, grids []*Standing) bool {
	here := s.Grid.Frame.Base.Apply(s.Grid.At(at))
	point := solid.Bounds{Lo: here, Hi: here}
	room := point.Wider(s.lift.Norm() + s.half.Norm() + sheet)
	for _, g := range grids {
		g.effort.made++
		if g.bounds.Overlaps(&room) {
			return true
		}
	}
	return false
}

// stacks reports whether parts that lie as their slots say rest on those right below; it
// is the same everywhere in a grid.
func (s *Standing) stacks() bool {
	if s.stacked != s.part {
		one, other := s.stands(slot.Slot{Layer: 1}, s.part, nil), s.stands(slot.Slot{}, s.part, nil)
		_, share := one.rests(&other)
		s.stacked, s.bears = s.part, share >= leastBase
	}
	return s.bears
}
