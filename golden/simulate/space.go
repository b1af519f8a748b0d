package simulate

import (
	"math"

	"gridferry/plan"
)

// Vec is x, y, z: mm, or kg·m² of moments of inertia.
type Vec [3]float64

func (v Vec) add(w Vec, times float64) Vec {
	for i := range v {
		v[i] += times * w[i]
	}
	return v
}

func (v Vec) dot(w Vec) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }

func (v Vec) length() float64 { return math.Sqrt(v.dot(v)) }

// Matrix is a rotation, by rows.
type Matrix [3]Vec

func (m Matrix) column(k int) Vec { return Vec{m[0][k], m[1][k], m[2][k]} }

func (m Matrix) apply(v Vec) Vec { return Vec{m[0].dot(v), m[1].dot(v), m[2].dot(v)} }

func (m Matrix) mul(n Matrix) (p Matrix) {
	for i := range p {
		for k := range p {
			p[i][k] = m[i].dot(n.column(k))
		}
	}
	return p
}

func (m Matrix) turnedBack() Matrix { return Matrix{m.column(0), m.column(1), m.column(2)} }

// Pose is where something is and how it is turned.
type Pose struct {
	R  Matrix
	At Vec
}

var unturned = Matrix{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

func (p Pose) mul(q Pose) Pose { return Pose{p.R.mul(q.R), p.At.add(p.R.apply(q.At), 1)} }

func (p Pose) inverse() Pose {
	back := p.R.turnedBack()
	return Pose{back, back.apply(Vec{}.add(p.At, -1))}
}

// Near reports whether two poses are so many mm and degrees apart at most. The angle between
// two rotations is that of R₁ᵀR₂: of its difference from the unit matrix the Frobenius norm is 2√2·sin(θ/2).
func (p Pose) Near(q Pose, mm, degrees float64) bool {
	sum := 0.0
	for i := range p.R {
		d := p.R[i].add(q.R[i], -1)
		sum += d.dot(d)
	}
	angle := 2 * math.Asin(min(1, math.Sqrt(sum/8))) * 180 / math.Pi
	return p.At.add(q.At, -1).length() <= mm && angle <= degrees
}

// RPY is Rz(yaw)·Ry(pitch)·Rx(roll), of degrees.
func RPY(v Vec) Matrix {
	sr, cr := math.Sincos(v[0] * math.Pi / 180)
	sp, cp := math.Sincos(v[1] * math.Pi / 180)
	sy, cy := math.Sincos(v[2] * math.Pi / 180)
	z := Matrix{{cy, -sy, 0}, {sy, cy, 0}, {0, 0, 1}}
	y := Matrix{{cp, 0, sp}, {0, 1, 0}, {-sp, 0, cp}}
	x := Matrix{{1, 0, 0}, {0, cr, -sr}, {0, sr, cr}}
	return z.mul(y).mul(x)
}

// quaternion is the rotation of w, x, y, z, which need not have length 1.
func quaternion(q [4]float64) Matrix {
	n := q[0]*q[0] + q[1]*q[1] + q[2]*q[2] + q[3]*q[3]
	w, v := q[0], Vec{q[1], q[2], q[3]}
	var m Matrix
	for k := range 3 { // v → v + 2w(u×v) + 2u×(u×v)
		var e Vec
		e[k] = 1
		once := cross(v, e)
		e = e.add(once, 2*w/n).add(cross(v, once), 2/n)
		for i := range 3 {
			m[i][k] = e[i]
		}
	}
	return m
}

func cross(a, b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// written is a pose as the files have it; down is how it is turned where they do not say.
func written(p *plan.Pose, otherwise Matrix) Pose {
	pose := Pose{otherwise, Vec(p.At.V)}
	switch {
	case p.RPY.IsSet():
		pose.R = RPY(Vec(p.RPY.V))
	case p.Quaternion.IsSet():
		pose.R = quaternion(p.Quaternion.V)
	}
	return pose
}

// threePoints: X points from the origin to along_x, Z is square to X and toward_y, and Y to both.
func threePoints(p *plan.ThreePoints) Pose {
	origin := Vec(p.Origin.V)
	x := unit(Vec(p.AlongX.V).add(origin, -1))
	z := unit(cross(x, Vec(p.TowardY.V).add(origin, -1)))
	return Pose{Matrix{x, cross(z, x), z}.turnedBack(), origin}
}

func unit(v Vec) Vec { return Vec{}.add(v, 1/v.length()) }
