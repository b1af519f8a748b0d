package geom

// Pose is a position and an orientation together: where a child frame lies in
// its parent.
type Pose struct {
	R Rot
	T Vec // the child's origin in the parent, mm
}

// Identity is the pose of a frame in itself.
var Identity = Pose{R: IdentityRot()}

// At returns the pose at a place and an orientation.
func At(place Vec, turn RPY) Pose { return Pose{R: turn.Rot(), T: place} }

// Apply gives a point written in the child's coordinates in the parent's.
func (p Pose) Apply(v Vec) (w Vec) {
	p.Put(&w, &v)
	return w
}

// Put is Apply, put where it is to be. Poses are large: to pass one takes longer than to apply it.
func (p *Pose) Put(w, v *Vec) {
	*w = Vec{
		float64(p.R[0][0]*v.X) + float64(p.R[0][1]*v.Y) + float64(p.R[0][2]*v.Z) + p.T.X,
		float64(p.R[1][0]*v.X) + float64(p.R[1][1]*v.Y) + float64(p.R[1][2]*v.Z) + p.T.Y,
		float64(p.R[2][0]*v.X) + float64(p.R[2][1]*v.Y) + float64(p.R[2][2]*v.Z) + p.T.Z,
	}
}

// Mul returns the pose of q's child in p's parent, where q is written in p's
// child.
func (p Pose) Mul(q Pose) Pose { return Pose{R: p.R.Mul(q.R), T: p.Apply(q.T)} }

// Inverse returns the pose of the parent in the child.
func (p Pose) Inverse() Pose {
	back := p.R.T()
	return Pose{R: back, T: Vec{}.Sub(back.Apply(p.T))}
}
