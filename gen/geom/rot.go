package geom

// Rot is a rotation matrix, by rows. It turns a point: coordinates along a
// child's axes become coordinates along the parent's. Its columns are the
// child's axes as the parent sees them.
type Rot [3][3]float64

// IdentityRot returns the rotation that turns nothing.
func IdentityRot() Rot { return Rot{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} }

// RotX returns the turn about X by an angle in degrees, counter-clockwise seen
// from the positive end.
func RotX(degrees float64) Rot {
	s, c := SinCos(degrees)
	return Rot{{1, 0, 0}, {0, c, -s}, {0, s, c}}
}

// RotY returns the turn about Y, as RotX.
func RotY(degrees float64) Rot {
	s, c := SinCos(degrees)
	return Rot{{c, 0, s}, {0, 1, 0}, {-s, 0, c}}
}

// RotZ returns the turn about Z, as RotX.
func RotZ(degrees float64) Rot {
	s, c := SinCos(degrees)
	return Rot{{c, -s, 0}, {s, c, 0}, {0, 0, 1}}
}

// FromColumns returns the rotation whose columns are the child's axes x, y, z in
// the parent. The caller answers for unit length and right angles.
func FromColumns(x, y, z Vec) Rot {
	return Rot{{x.X, y.X, z.X}, {x.Y, y.Y, z.Y}, {x.Z, y.Z, z.Z}}
}

// Column returns the child's axis i (0 X, 1 Y, 2 Z) as the parent sees it.
func (r Rot) Column(i int) Vec { return Vec{r[0][i], r[1][i], r[2][i]} }

// Apply turns v.
func (r Rot) Apply(v Vec) Vec {
	return Vec{
		float64(r[0][0]*v.X) + float64(r[0][1]*v.Y) + float64(r[0][2]*v.Z),
		float64(r[1][0]*v.X) + float64(r[1][1]*v.Y) + float64(r[1][2]*v.Z),
		float64(r[2][0]*v.X) + float64(r[2][1]*v.Y) + float64(r[2][2]*v.Z),
	}
}

// Mul returns the rotation that turns by s first and by r after it.
func (r Rot) Mul(s Rot) Rot {
	var p Rot
	for i := range p {
		for j := range p[i] {
			p[i][j] = float64(r[i][0]*s[0][j]) + float64(r[i][1]*s[1][j]) + float64(r[i][2]*s[2][j])
		}
	}
	return p
}

// T returns the transpose, which is the inverse of a rotation.
func (r Rot) T() Rot {
	return Rot{{r[0][0], r[1][0], r[2][0]}, {r[0][1], r[1][1], r[2][1]}, {r[0][2], r[1][2], r[2][2]}}
}

// Angle returns how far r turns, in [0, 180] degrees, about whatever axis.
func (r Rot) Angle() float64 {
	w, x, y, z := r.Quaternion()
	return 2 * Atan2(Vec{x, y, z}.Norm(), w)
}
