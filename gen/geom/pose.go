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
func (p Pose) Apply(v Vec) Vec { return p.R.Apply(v).Add(p.T) }

// Mul returns the pose of q's child in p's parent, where q is written in p's
// child.
func (p Pose) Mul(q Pose) Pose { return Pose{R: p.R.Mul(q.R), T: p.Apply(q.T)} }

// Inverse returns the pose of the parent in the child.
func (p Pose) Inverse() Pose {
	back := p.R.T()
	return Pose{R: back, T: Vec{}.Sub(back.Apply(p.T))}
}
