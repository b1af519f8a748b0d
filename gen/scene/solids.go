package scene

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

// solids numbers the shapes of a scene, each part's once.
type solids struct {
	known map[*layout.Part]int
	all   *[]Solid
}

func (s *solids) add(one Solid) int {
	*s.all = append(*s.all, one)
	return len(*s.all) - 1
}

// part is a part of known size from the slot that it lies in as that says; -1 for any other.
func (s *solids) part(p *layout.Part) int {
	if !p.Sized() {
		return -1
	}
	n, known := s.known[p]
	if !known {
		n = s.add(solidOf(p))
		s.known[p] = n
	}
	return n
}

func solidOf(p *layout.Part) Solid {
	half, low, high := p.Size.Scale(0.5), -p.Grip, p.Size.Z-p.Grip
	if p.Symmetry == "round" {
		return Solid{Cylinder: &Round{Vec{0, 0, low}, Vec{0, 0, high}, Length(half.X)}}
	}
	return Solid{Box: &Box{From: Vec{-half.X, -half.Y, low}, To: Vec{half.X, half.Y, high}}}
}

// sign is a flat one for a part of a grid whose size nobody says.
func (s *solids) sign(g *layout.Grid) int {
	var flat Solid
	for _, c := range g.Corners(nil, 0, nil) {
		flat.Corners = append(flat.Corners, vecOf(c))
	}
	return s.add(flat)
}

// link is a shape of an arm's link, in the base.
func (s *solids) link(l *layout.LinkShape) int {
	switch from, to := vecOf(l.From), vecOf(l.To); {
	case l.Radius == 0:
		back := l.At.R.T().Apply(l.At.T)
		return s.add(Solid{Box: &Box{vecOf(back.Sub(l.Half)), vecOf(back.Add(l.Half)), turnOf(l.At.R)}})
	case from == to:
		return s.add(Solid{Sphere: &Ball{from, Length(l.Radius)}})
	default:
		return s.add(Solid{Capsule: &Round{from, to, Length(l.Radius)}})
	}
}

// shifted is how a solid that is written from its slot gets to where the part lies in it.
func shifted(lie *layout.Lie) (turn geom.Rot, shift geom.Vec) {
	r := lie.Pose.R
	return r, lie.Pose.T.Sub(r.Apply(geom.Vec{Z: lie.Part.Middle()}))
}
