package layout

import "gridferry/gen/geom"

// Hung is a part that hangs in a gripper: its middle is at a pose in the frame of the tool, or
// of the zone, that holds it.
type Hung struct {
	Part *Part
	By   *Tool
	At   geom.Pose
}

// onFlange is the pose of its middle on the flange.
func (h *Hung) onFlange() geom.Pose { return h.By.TCP.Mul(h.At) }

// LoadWith is what hangs on the flange, kg: the tool and these parts.
func (t *Tool) LoadWith(parts ...Hung) float64 {
	load := t.Mass
	for i := range parts {
		load += parts[i].Part.Mass
	}
	return load
}

// CentreWith is the centre of gravity of the tool and parts on the flange. It is zero where
// the tool's own is not known.
func (t *Tool) CentreWith(parts ...Hung) geom.Vec {
	if len(parts) == 0 || t.CentreOfGravity == (geom.Vec{}) {
		return t.CentreOfGravity
	}
	return t.lever(parts).Scale(1 / t.LoadWith(parts...))
}

// lever is mass times centre of gravity, of tool and parts together.
func (t *Tool) lever(parts []Hung) geom.Vec {
	sum := t.CentreOfGravity.Scale(t.Mass)
	for i := range parts {
		sum = sum.Add(parts[i].By.TCP.Apply(parts[i].At.T).Scale(parts[i].Part.Mass))
	}
	return sum
}

// MostMoment is what the tool and parts may turn the flange with about its centre, in N·m: the
// lever lies level, and a part is taken as a mass at the TCP that it hangs at.
func (t *Tool) MostMoment(parts ...Hung) float64 {
	at := make([]Hung, len(parts))
	for i := range parts {
		at[i] = Hung{Part: parts[i].Part, By: parts[i].By}
	}
	return standardGravity * (t.lever(at).Norm() / 1000)
}

// standardGravity is gₙ, m/s² (3rd CGPM, 1901; also ISO 80000-3).
const standardGravity = 9.80665

// InertiaWith is the moments of inertia of the tool and parts about their common centre of
// gravity, along the flange's X, Y and Z, in kg·m². A part is a solid box of one density
// throughout. It is zero where the tool's own, or a part's size, is not known.
//
// These are the diagonal of the inertia tensor. Its products of inertia, which are not 0 where
// the masses lie askew to the flange's axes, are left out: the list has no column for them.
func (t *Tool) InertiaWith(parts ...Hung) geom.Vec {
	if len(parts) == 0 || t.Inertia == (geom.Vec{}) {
		return t.Inertia
	}
	centre := t.CentreWith(parts...)
	sum := t.Inertia.Add(aboutParallel(t.Mass, t.CentreOfGravity.Sub(centre)))
	for i := range parts {
		h := &parts[i]
		if !h.Part.Sized() {
			return geom.Vec{}
		}
		part := h.onFlange()
		sum = sum.Add(turned(h.Part.inertia(), part.R)).Add(aboutParallel(h.Part.Mass, part.T.Sub(centre)))
	}
	return sum
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
