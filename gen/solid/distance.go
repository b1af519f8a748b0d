package solid

import (
	"math"

	"gridferry/gen/geom"
)

// Distance is how far two solids are apart, mm; 0 where they touch or reach into each other. It finds the point nearest to the
// origin of their difference, which is a zonotope too, by closing in with ever better simplices of
// its corners (Gilbert, Johnson and Keerthi, IEEE J. Robotics and Automation 4, 1988; from memory).
func Distance(a, b *Solid) float64 {
	difference := minus(b, a)
	return difference.nearest().Norm()
}

// Between is a direction from one solid to another one, of unit length, and how far they are apart along that: nearly as far as
// they are at all. It is no more than 0 where none was found.
func Between(a, b *Solid) (along geom.Vec, apart float64) {
	difference := minus(b, a)
	along, ok := difference.nearest().Unit()
	if !ok {
		return along, 0
	}
	apart, _ = difference.Along(along)
	return along, apart
}

// Gap is how far two solids are apart that are each within a radius of a core, together the one given: below 0 as deep as
// they reach into each other. It changes by no more than one of them moves.
func Gap(a, b *Solid, radius float64) float64 {
	if apart := Distance(a, b); apart > 0 {
		return apart - radius
	}
	depth := DepthOver(a, b, 0)
	if math.IsInf(depth, 1) { // two lines, which have no depth
		depth = 0
	}
	return -max(0, depth) - radius
}

// nearest is the solid's point nearest to the origin; the origin itself where that lies within.
func (s *Solid) nearest() geom.Vec {
	var x simplex
	nearest := s.farthest(s.Centre.Scale(-1))
	x.add(nearest)
	const rounds, close = 100, 1e-9
	for range rounds {
		far := nearest.Norm()
		if far < close {
			return geom.Vec{}
		}
		// No corner lies nearer along the way to the origin than next: that bounds the distance from below.
		next := s.farthest(nearest.Scale(-1))
		if far-nearest.Dot(next)/far <= close || x.has(next) {
			break
		}
		x.add(next)
		nearest = x.nearest()
	}
	return nearest
}

// farthest is the corner that lies farthest in a direction.
func (s *Solid) farthest(along geom.Vec) geom.Vec {
	at := s.Centre
	for i := range s.n {
		at = at.Add(s.edges[i].Scale(math.Copysign(1, s.edges[i].Dot(along))))
	}
	return at
}

// simplex is up to four corners.
type simplex struct {
	at [4]geom.Vec
	n  int
}

func (s *simplex) add(p geom.Vec) {
	s.at[s.n] = p
	s.n++
}

func (s *simplex) has(p geom.Vec) bool {
	for i := range s.n {
		if s.at[i] == p {
			return true
		}
	}
	return false
}

// nearest is its point nearest to the origin. Only the corners whose hull that lies in are kept: of all their subsets the
// one in which it lies nearest.
func (s *simplex) nearest() geom.Vec {
	var best geom.Vec
	var kept simplex
	least := math.Inf(1)
	for subset := 1; subset < 1<<s.n; subset++ {
		var part simplex
		for i := range s.n {
			if subset>>i&1 == 1 {
				part.add(s.at[i])
			}
		}
		if at, inside := part.foot(); inside && at.Norm() < least {
			best, kept, least = at, part, at.Norm()
		}
	}
	if kept.n < 4 {
		*s = kept
	}
	return best
}

// foot is the point nearest to the origin of the plane, line or space through all corners; false where it does not lie
// between them.
func (s *simplex) foot() (at geom.Vec, inside bool) {
	if s.n == 4 {
		return geom.Vec{}, s.around()
	}
	from := s.at[0]
	switch s.n {
	case 1:
		return from, true
	case 2:
		way := s.at[1].Sub(from)
		share := -from.Dot(way) / way.Dot(way)
		return from.Add(way.Scale(share)), share >= 0 && share <= 1
	}
	u, v := s.at[1].Sub(from), s.at[2].Sub(from)
	uu, uv, vv, fu, fv := u.Dot(u), u.Dot(v), v.Dot(v), -from.Dot(u), -from.Dot(v)
	area := float64(uu*vv) - float64(uv*uv)
	if !(area > 1e-14*uu*vv) {
		return geom.Vec{}, false // all but a line, which another subset has
	}
	i, k := (float64(fu*vv)-float64(fv*uv))/area, (float64(fv*uu)-float64(fu*uv))/area
	return from.Add(u.Scale(i)).Add(v.Scale(k)), i >= 0 && k >= 0 && i+k <= 1
}

// around says whether the origin lies between four corners.
func (s *simplex) around() bool {
	for i := range 4 {
		a, b, c, opposite := s.at[(i+1)%4], s.at[(i+2)%4], s.at[(i+3)%4], s.at[i]
		normal := b.Sub(a).Cross(c.Sub(a))
		side, here := opposite.Sub(a).Dot(normal), -a.Dot(normal)
		if side == 0 || side*here < 0 {
			return false
		}
	}
	return true
}
