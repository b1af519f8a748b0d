package layout

import "gridferry/gen/geom"

// CentreWith is the centre of gravity of tool and part on the flange, the part's middle at a
// point in the tool's frame; of the tool alone where there is no part. It is zero where the
// tool's own is not known.
func (t *Tool) CentreWith(p *Part, at geom.Vec) geom.Vec {
	if p == nil || t.CentreOfGravity == (geom.Vec{}) {
		return t.CentreOfGravity
	}
	return t.lever(p, at).Scale(1 / (t.Mass + p.Mass))
}

// lever is mass times centre of gravity, of tool and part together.
func (t *Tool) lever(p *Part, at geom.Vec) geom.Vec {
	return t.CentreOfGravity.Scale(t.Mass).Add(t.TCP.Apply(at).Scale(p.Mass))
}

// MostMoment is what tool and part may turn the flange with about its centre, in N·m: the lever
// lies level, and the part is taken as a mass at the TCP.
func (t *Tool) MostMoment(p *Part) float64 {
	return standardGravity * (t.lever(p, geom.Vec{}).Norm() / 1000)
}

// standardGravity is gₙ, m/s² (3rd CGPM, 1901; also ISO 80000-3).
const standardGravity = 9.80665

// InertiaWith is the moments of inertia of tool and part about their common centre of gravity,
// along the flange's X, Y and Z, in kg·m², the part's middle at a pose in the tool's frame; of
// the tool alone where there is no part. The part is a solid box of one density throughout. It
// is zero where the tool's own, or the part's size, is not known.
//
// These are the diagonal of the inertia tensor. Its products of inertia, which are not 0 where
// the masses lie askew to the flange's axes, are left out: the list has no column for them.
func (t *Tool) InertiaWith(p *Part, held geom.Pose) geom.Vec {
	if p == nil || t.Inertia == (geom.Vec{}) {
		return t.Inertia
	}
	if !p.Sized() {
		return geom.Vec{}
	}
	part, centre := t.TCP.Mul(held), t.CentreWith(p, held.T)
	return t.Inertia.Add(aboutParallel(t.Mass, t.CentreOfGravity.Sub(centre))).
		Add(turned(p.inertia(), part.R)).Add(aboutParallel(p.Mass, part.T.Sub(centre)))
}

// aboutParallel is what a mass adds to the moments of inertia about axes that lie so far from
// those through its own centre, in mm, and parallel to them (Huygens and Steiner).
func aboutParallel(mass float64, off geom.Vec) geom.Vec { return across(off).Scale(mass * squareMetre) }

// inertia is the moments of inertia of the part as a solid box, about its middle and along its
// own edges.
func (p *Part) inertia() geom.Vec { return across(p.Size).Scale(p.Mass / 12 * squareMetre) }

// squareMetre is how many of them a square millimetre is.
const squareMetre = 1e-6

// across is, for each axis, the square of the distance from it.
func across(v geom.Vec) geom.Vec {
	x, y, z := float64(v.X*v.X), float64(v.Y*v.Y), float64(v.Z*v.Z)
	return geom.Vec{X: y + z, Y: x + z, Z: x + y}
}

// turned is the diagonal of an inertia tensor that is diagonal along axes which are turned so.
func turned(own geom.Vec, r geom.Rot) geom.Vec {
	along := func(row int) float64 {
		a := r[row]
		return float64(a[0]*a[0]*own.X) + float64(a[1]*a[1]*own.Y) + float64(a[2]*a[2]*own.Z)
	}
	return geom.Vec{X: along(0), Y: along(1), Z: along(2)}
}
