package layout

import (
	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/solid"
	"gridferry/plan"
	"gridferry/plan/urdf"
)

// LinkShape is all points within Radius of the line from From to To, which may be one point; or,
// where Radius is 0, the box about the origin of At by half its size.
type LinkShape struct {
	From, To geom.Vec
	Radius   float64
	At       geom.Pose
	Half     geom.Vec
}

// Core is what all points of the shape are within its radius of.
func (s *LinkShape) Core() solid.Solid {
	if s.Radius > 0 {
		from := solid.Point(s.From)
		return from.Swept(s.To.Sub(s.From))
	}
	return solid.Block(s.At, s.Half)
}

// LinkName is what is fixed behind so many joints of the arm, as messages call it.
func (a *Arm) LinkName(behind int) string {
	if behind == 0 {
		return "the arm's base"
	}
	return "the link behind " + a.Joints[behind-1].Name
}

// StandsIn says whether a box counts as the arm's own foot: its first link reaches into it where the job begins.
func (a *Arm) StandsIn(box *solid.Solid, begin *arm.Readings) bool {
	first := a.Links(*begin)[0]
	for i := range a.Shapes[1] {
		s := &a.Shapes[1][i]
		core := s.Core()
		if core = core.In(&first); solid.Gap(box, &core, s.Radius) < 0 {
			return true
		}
	}
	return false
}

// shapesOf is what the links of an arm fill: where the cell says it of one, that counts and not the
// file.
func shapesOf(a *plan.Arm, base geom.Pose) [][]LinkShape {
	shapes := make([][]LinkShape, len(a.Joints)+1)
	if a.Chain != nil {
		ofLinks(a.Chain, base, shapes)
	}
	for _, l := range a.Links {
		behind := a.Joint(l.Joint.V) + 1
		if behind == 0 {
			continue // that mistake was reported
		}
		shapes[behind] = nil
		for _, s := range l.Shapes {
			if shape, ok := shapeOf(s, base); ok {
				shapes[behind] = append(shapes[behind], shape)
			}
		}
	}
	return shapes
}

func shapeOf(s *plan.LinkShape, base geom.Pose) (LinkShape, bool) {
	from, to := vec(s.From), vec(s.To)
	switch {
	case s.Radius.IsSet() && s.From.IsSet() && s.To.IsSet():
		return LinkShape{From: base.Apply(from), To: base.Apply(to), Radius: s.Radius.V}, true
	case s.Radius.IsSet() && s.From.IsSet():
		return LinkShape{From: base.Apply(from), To: base.Apply(from), Radius: s.Radius.V}, true
	case s.From.IsSet() && s.To.IsSet():
		lo, half := from.Min(to), from.Max(to).Sub(from.Min(to)).Scale(0.5)
		return LinkShape{At: geom.Pose{R: base.R, T: base.Apply(lo.Add(half))}, Half: half}, true
	}
	return LinkShape{}, false
}

// ofLinks is the shapes of the links of a file. A cylinder counts as the capsule around it, whose
// ends are round.
func ofLinks(c *urdf.Chain, at geom.Pose, shapes [][]LinkShape) {
	behind := 0
	for i, l := range c.Links {
		if i > 0 {
			j := c.Joints[i-1]
			if at = at.Mul(originOf(&j.Origin)); j.Moves() {
				behind++
			}
		}
		for k := range l.Shapes {
			s := &l.Shapes[k]
			in := at.Mul(originOf(&s.Origin))
			if s.Round {
				half := geom.Vec{Z: s.Length / 2}
				shapes[behind] = append(shapes[behind], LinkShape{From: in.Apply(half.Scale(-1)), To: in.Apply(half), Radius: s.Radius})
			} else {
				shapes[behind] = append(shapes[behind], LinkShape{At: in, Half: triple(s.Size).Scale(0.5)})
			}
		}
	}
}
