package geom

import "math"

// RPY is an orientation as three angles in degrees: turns about the parent's
// fixed X, then Y, then Z axis, R = Rz(yaw)·Ry(pitch)·Rx(roll). The same three
// angles read backwards are turns about the moving Z, Y, X axes (Craig,
// Introduction to Robotics, eq. 2.64 and 2.71).
type RPY struct{ Roll, Pitch, Yaw float64 }

// Is reports whether a and b are the same to the last bit. Zeros of different sign are not: half a turn to either side could
// come of them.
func (a *RPY) Is(b *RPY) bool {
	bits := math.Float64bits
	return bits(a.Roll) == bits(b.Roll) && bits(a.Pitch) == bits(b.Pitch) && bits(a.Yaw) == bits(b.Yaw)
}

// Rot returns the rotation matrix; exact where all angles are multiples of 90°.
func (a RPY) Rot() Rot { return RotZ(a.Yaw).Mul(RotY(a.Pitch)).Mul(RotX(a.Roll)) }

// FromDown is how far the Z axis of what is turned so is off -Z, in degrees.
func (a RPY) FromDown() float64 { return a.Rot().Column(2).AngleTo(Vec{Z: -1}) }

// polar is the sine below which two axes count as parallel, so that only the sum
// or difference of the two turns about them means anything: 1e-10 moves a point
// one metre away by a tenth of a nanometre, and rounding stays far below it.
const polar = 1e-10

// RPY returns the angles of r in their canonical form: roll and yaw in
// (-180, 180], pitch in [-90, 90], and at the pole, where pitch is ±90 and only
// roll ∓ yaw is defined, yaw 0. No angle is -0.
func (r Rot) RPY() RPY {
	level := math.Sqrt(float64(r[0][0]*r[0][0]) + float64(r[1][0]*r[1][0]))
	switch {
	case level > polar:
		return RPY{halfTurn(Atan2(r[2][1], r[2][2])), Atan2(-r[2][0], level), halfTurn(Atan2(r[1][0], r[0][0]))}
	case r[2][0] < 0:
		return RPY{halfTurn(Atan2(r[0][1], r[1][1])), 90, 0}
	default:
		return RPY{halfTurn(Atan2(-r[0][1], r[1][1])), -90, 0}
	}
}

// EulerZYX returns the turns about the moving Z, then Y, then X axis, in degrees,
// canonical as RPY.
func (r Rot) EulerZYX() (z, y, x float64) {
	a := r.RPY()
	return a.Yaw, a.Pitch, a.Roll
}

// EulerZYZ returns the turns about the moving Z, then Y, then again Z axis, in
// degrees: the first and last in (-180, 180], the middle in [0, 180]. Where the
// middle is 0 or 180 only the sum or difference of the others is defined and the
// first is 0.
func (r Rot) EulerZYZ() (z1, y, z2 float64) {
	level := math.Sqrt(float64(r[0][2]*r[0][2]) + float64(r[1][2]*r[1][2]))
	switch {
	case level > polar:
		return halfTurn(Atan2(r[1][2], r[0][2])), Atan2(level, r[2][2]), halfTurn(Atan2(r[2][1], -r[2][0]))
	case r[2][2] > 0:
		return 0, 0, halfTurn(Atan2(r[1][0], r[1][1]))
	default:
		return 0, 180, halfTurn(Atan2(r[1][0], r[1][1]))
	}
}

// halfTurn gives half a turn backwards as half a turn forwards, also where
// rounding left it a hair short: a tool pointing down must not read 180 in one
// slot and -180 in the next.
func halfTurn(degrees float64) float64 {
	const hair = 1e-9
	if degrees <= -180+hair {
		return 180
	}
	return degrees
}
