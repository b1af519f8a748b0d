// Package solid reports whether convex solids overlap, and how deep: boxes
// however they are turned, boxes swept along a straight line, prisms about a
// tool.
//
// All of them are zonotopes: a centre, and edges that are each added once
// forwards and once backwards. That family is closed under sweeping along a
// line (one edge more) and under the Minkowski difference (the edges of both),
// so that one test serves every pair: two zonotopes are apart exactly when some
// normal of two of their edges separates them (the separating axis theorem;
// Gottschalk, Lin, Manocha, OBBTree, SIGGRAPH 1996, section 5, has the case of
// two boxes).
package solid

import (
	"math"

	"gridferry/gen/geom"
)

// mostEdges is what two solids together may have: a prism of sixteen sides
// (eight edges and its axis) that three axes sweep, against a drum of twelve.
const mostEdges = 19

// Thinnest is the least half-thickness of a box, mm: a sheet is taken as a
// hundredth of a millimetre thick, so that no pair of solids is flat.
const Thinnest = 0.005

// Solid is a zonotope: every point Centre + Σ tᵢ·edgeᵢ with all tᵢ in [-1, 1].
type Solid struct {
	Centre geom.Vec
	edges  [mostEdges]geom.Vec
	n      int
}

// Point is the smallest solid.
func Point(at geom.Vec) Solid { return Solid{Centre: at} }

// Box lies between two opposite corners, lo below hi in every direction, in
// the coordinates of a pose.
func Box(in geom.Pose, lo, hi geom.Vec) Solid {
	half := hi.Sub(lo).Scale(0.5)
	return Block(geom.Pose{R: in.R, T: in.Apply(lo.Add(half))}, half)
}

// Block is a box about the origin of a pose, given by its half size.
func Block(at geom.Pose, half geom.Vec) Solid {
	s := Solid{Centre: at.T}
	s.add(at.R.Column(0).Scale(max(half.X, Thinnest)))
	s.add(at.R.Column(1).Scale(max(half.Y, Thinnest)))
	s.add(at.R.Column(2).Scale(max(half.Z, Thinnest)))
	return s
}

// drumEdges is half the number of a drum's sides.
const drumEdges = 6

// Drum stands for an upright cylinder about the origin of a pose, given by half its
// size: the regular prism of twelve sides around it, which is at most 1/cos(π/12) - 1 =
// 4 % wider, and no wider where round things stand side by side, in straight rows or
// in staggered ones.
func Drum(at geom.Pose, half geom.Vec) Solid {
	const tanSide = 0.26794919243112270647 // tan(π/12)
	s := Solid{Centre: at.T}
	side := max(half.X, Thinnest) * tanSide
	for k := range drumEdges {
		sin, cos := geom.SinCos(float64(k) * 180 / drumEdges)
		s.add(at.R.Apply(geom.Vec{X: float64(side * cos), Y: float64(side * sin)}))
	}
	s.add(at.R.Column(2).Scale(max(half.Z, Thinnest)))
	return s
}

// prismEdges is half the number of a prism's sides.
const prismEdges = 8

// Prism stands for a cylinder between two points: the regular prism of sixteen
// sides around it, which holds it and is at most 1/cos(π/16) - 1 = 2 % wider.
func Prism(from, to geom.Vec, radius float64) Solid {
	half := to.Sub(from).Scale(0.5)
	s := Solid{Centre: from.Add(half)}
	x, y := square(half)
	// A regular polygon of 2n sides of length 2e is the sum of n edges, and the
	// circle inside it has the radius e / tan(π/2n).
	side := radius * tanSide
	for k := range prismEdges {
		s.add(x.Scale(float64(side * cosines[k])).Add(y.Scale(float64(side * sines[k]))))
	}
	s.add(half)
	return s
}

// tanSide is tan(π/16).
const tanSide = 0.19891236737965800691

// sines and cosines are those of the directions of a prism's sides.
var sines, cosines [prismEdges]float64

func init() {
	for k := range prismEdges {
		sines[k], cosines[k] = geom.SinCos(float64(k) * 180 / prismEdges)
	}
}

// square gives two directions at right angles to v and to each other.
func square(v geom.Vec) (x, y geom.Vec) {
	z, ok := v.Unit()
	if !ok {
		z = geom.Vec{Z: 1}
	}
	least := geom.Vec{X: 1}
	if math.Abs(z.X) > math.Abs(z.Y) {
		least = geom.Vec{Y: 1}
	}
	x, _ = z.Cross(least).Unit()
	return x, z.Cross(x)
}

// Swept is what the solid touches on its way along a displacement.
func (s *Solid) Swept(by geom.Vec) Solid {
	half := by.Scale(0.5)
	swept := *s
	swept.Centre = s.Centre.Add(half)
	if half != (geom.Vec{}) {
		swept.add(half)
	}
	return swept
}

// SweptByAxes is what the solid may touch while each of three upright axes goes its part
// of a displacement for itself.
func (s *Solid) SweptByAxes(by geom.Vec) Solid {
	swept := s.Swept(geom.Vec{X: by.X})
	swept = swept.Swept(geom.Vec{Y: by.Y})
	return swept.Swept(geom.Vec{Z: by.Z})
}

// In is the solid in another frame's coordinates: p is the pose of the frame
// that it is written in, there.
func (s *Solid) In(p *geom.Pose) Solid {
	out := Solid{Centre: p.Apply(s.Centre), n: s.n}
	for i := range s.n {
		out.edges[i] = p.R.Apply(s.edges[i])
	}
	return out
}

// Reach is how far the solid goes from its centre along X, Y and Z.
func (s *Solid) Reach() geom.Vec {
	var r geom.Vec
	for i := range s.n {
		e := &s.edges[i]
		r.X += math.Abs(e.X)
		r.Y += math.Abs(e.Y)
		r.Z += math.Abs(e.Z)
	}
	return r
}

// Bounds is the upright box around the solid.
func (s *Solid) Bounds() Bounds {
	r := s.Reach()
	return Bounds{s.Centre.Sub(r), s.Centre.Add(r)}
}

// Along is from where to where the solid goes in a direction, in lengths of that.
func (s *Solid) Along(direction geom.Vec) (lo, hi float64) {
	middle, reach := s.Centre.Dot(direction), 0.0
	for i := range s.n {
		reach += math.Abs(s.edges[i].Dot(direction))
	}
	return middle - reach, middle + reach
}

// About is where the solid lies along an axis of unit length through the origin, and how
// far it reaches from it.
func (s *Solid) About(axis geom.Vec) (lo, hi, far float64) {
	lo, hi = s.Along(axis)
	for k := range 1 << s.n {
		at := s.corner(k)
		far = max(far, at.Sub(axis.Scale(at.Dot(axis))).Norm())
	}
	return lo, hi, far
}

// corner is the centre and all edges, each forwards or, where its bit of k is set, backwards.
func (s *Solid) corner(k int) geom.Vec {
	at := s.Centre
	for i := range s.n {
		at = at.Add(s.edges[i].Scale(float64(1 - 2*(k>>i&1))))
	}
	return at
}

// Whirled is the room that a solid takes up while it turns all around an axis of unit
// length through the origin, and how far it reaches from that.
func (s *Solid) Whirled(axis geom.Vec) (Solid, float64) {
	lo, hi, far := s.About(axis)
	return Prism(axis.Scale(lo-Thinnest), axis.Scale(hi+Thinnest), far), far
}

func (s *Solid) add(edge geom.Vec) {
	s.edges[s.n] = edge
	s.n++
}

// DepthOver is how deep two solids reach into each other: the least distance, mm,
// by which one of them has to move to be free; below 0 at most as much as they are
// apart. Only a depth above the limit is given exactly; one that is not may come out
// anywhere up to the limit, which is known sooner. Together they must have edges in all three directions, which a box
// alone brings along.
func DepthOver(a, b *Solid, limit float64) float64 {
	between := minus(b, a)
	least := math.Inf(1)
	// From the last pair to the first: a is mostly a box, and its own sides show
	// soonest that they are apart.
	for i := between.n - 1; i > 0 && least > limit; i-- {
		for j := i - 1; j >= 0 && least > limit; j-- {
			if depth, ok := between.along(between.edges[i].Cross(between.edges[j])); ok && depth < least {
				least = depth
			}
		}
	}
	return least
}

// minus is the difference of two solids: all ways from a point of a to one of b.
func minus(b, a *Solid) Solid {
	between := Solid{Centre: b.Centre.Sub(a.Centre), edges: b.edges, n: b.n}
	for i := range a.n {
		between.add(a.edges[i])
	}
	return between
}

// along is how far the solid's far side lies behind the origin in a direction;
// false for two parallel edges, which have no normal.
func (s *Solid) along(normal geom.Vec) (float64, bool) {
	const none = 1e-18
	square := normal.Dot(normal)
	if square < none {
		return 0, false
	}
	depth := -math.Abs(s.Centre.Dot(normal))
	for i := range s.n {
		depth += math.Abs(s.edges[i].Dot(normal))
	}
	return depth / math.Sqrt(square), true
}
