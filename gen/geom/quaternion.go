package geom

import "math"

// quaternionSlack is how far a quaternion's length may be off 1: copied values
// are rounded, but a typing mistake in one of them shows.
const quaternionSlack = 0.01

// Quaternion returns the rotation of a quaternion, scalar part first, after
// normalising it; false where its length is off 1 by more than 1 %.
func Quaternion(w, x, y, z float64) (Rot, bool) {
	n := math.Sqrt(float64(w*w) + float64(x*x) + float64(y*y) + float64(z*z))
	if !(math.Abs(n-1) <= quaternionSlack) { // also true for NaN
		return Rot{}, false
	}
	w, x, y, z = w/n, x/n, y/n, z/n
	return Rot{
		{1 - 2*(float64(y*y)+float64(z*z)), 2 * (float64(x*y) - float64(w*z)), 2 * (float64(x*z) + float64(w*y))},
		{2 * (float64(x*y) + float64(w*z)), 1 - 2*(float64(x*x)+float64(z*z)), 2 * (float64(y*z) - float64(w*x))},
		{2 * (float64(x*z) - float64(w*y)), 2 * (float64(y*z) + float64(w*x)), 1 - 2*(float64(x*x)+float64(y*y))},
	}, true
}

// Quaternion returns the unit quaternion of r, scalar part first and not
// negative; for half a turn the first other part that is not zero is positive.
// The largest of the trace and the diagonal leads (S. Shepperd, J. Guidance and
// Control 1(3), 1978, 223-224), so that no small number is ever divided by.
func (r Rot) Quaternion() (w, x, y, z float64) {
	a, b, c := r[0][0], r[1][1], r[2][2]
	switch t := a + b + c; {
	case t >= a && t >= b && t >= c:
		w, x, y, z = 1+t, r[2][1]-r[1][2], r[0][2]-r[2][0], r[1][0]-r[0][1]
	case a >= b && a >= c:
		w, x, y, z = r[2][1]-r[1][2], 1+a-b-c, r[0][1]+r[1][0], r[0][2]+r[2][0]
	case b >= c:
		w, x, y, z = r[0][2]-r[2][0], r[0][1]+r[1][0], 1-a+b-c, r[1][2]+r[2][1]
	default:
		w, x, y, z = r[1][0]-r[0][1], r[0][2]+r[2][0], r[1][2]+r[2][1], 1-a-b+c
	}
	n := math.Sqrt(float64(w*w) + float64(x*x) + float64(y*y) + float64(z*z))
	if backward(w, x, y, z) {
		n = -n
	}
	return w/n + 0, x/n + 0, y/n + 0, z/n + 0
}

// backward reports whether the first part that is not zero is negative.
func backward(parts ...float64) bool {
	for _, p := range parts {
		if p != 0 {
			return p < 0
		}
	}
	return false
}

// Vector returns the rotation vector of r: along the axis of the turn, and as
// long as the turn is wide, in [0, 180] degrees.
func (r Rot) Vector() Vec {
	w, x, y, z := r.Quaternion()
	axis, turned := Vec{x, y, z}.Unit()
	if !turned {
		return Vec{}
	}
	return axis.Scale(2 * Atan2(Vec{x, y, z}.Norm(), w))
}

// RotFromVector returns the rotation of a rotation vector in degrees.
func RotFromVector(v Vec) Rot {
	axis, turned := v.Unit()
	if !turned {
		return IdentityRot()
	}
	s, c := SinCos(v.Norm() / 2)
	axis = axis.Scale(s)
	r, _ := Quaternion(c, axis.X, axis.Y, axis.Z)
	return r
}
