package geom_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/geom"

	"gonum.org/v1/gonum/num/quat"
)

// rounds is how many random cases a law is tried on.
const rounds = 2000

func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

func randomVec(r *rand.Rand) geom.Vec {
	return geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Scale(300)
}

// randomQuat is uniform over all rotations.
func randomQuat(r *rand.Rand) quat.Number {
	q := quat.Number{Real: r.NormFloat64(), Imag: r.NormFloat64(), Jmag: r.NormFloat64(), Kmag: r.NormFloat64()}
	return quat.Scale(1/quat.Abs(q), q)
}

func rotOf(t *testing.T, q quat.Number) geom.Rot {
	t.Helper()
	r, ok := geom.Quaternion(q.Real, q.Imag, q.Jmag, q.Kmag)
	if !ok {
		t.Fatalf("unit quaternion %v refused", q)
	}
	return r
}

func randomPose(t *testing.T, r *rand.Rand) geom.Pose {
	return geom.Pose{R: rotOf(t, randomQuat(r)), T: randomVec(r)}
}

func nearVec(t *testing.T, what string, got, want geom.Vec, within float64) {
	t.Helper()
	if !(got.Dist(want) <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func nearRot(t *testing.T, what string, got, want geom.Rot, within float64) {
	t.Helper()
	for i := range got {
		for j := range got[i] {
			if !(math.Abs(got[i][j]-want[i][j]) <= within) {
				t.Errorf("%s: row %d column %d: got %v, want %v", what, i+1, j+1, got[i][j], want[i][j])
			}
		}
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// The turn of a point by a quaternion, q·v·q*, as gonum's quaternion algebra has
// it: an implementation that shares nothing with this one.
func TestRotationAgreesWithQuaternionAlgebra(t *testing.T) {
	r := random(1)
	for range rounds {
		p, q, v := randomQuat(r), randomQuat(r), randomVec(r)
		turn := func(q quat.Number) geom.Vec {
			w := quat.Mul(quat.Mul(q, quat.Number{Imag: v.X, Jmag: v.Y, Kmag: v.Z}), quat.Conj(q))
			return geom.Vec{X: w.Imag, Y: w.Jmag, Z: w.Kmag}
		}
		nearVec(t, "one turn", rotOf(t, q).Apply(v), turn(q), 1e-11)
		nearVec(t, "two turns", rotOf(t, p).Mul(rotOf(t, q)).Apply(v), turn(quat.Mul(p, q)), 1e-11)
		nearVec(t, "inverse", rotOf(t, q).T().Apply(v), turn(quat.Inv(q)), 1e-11)
	}
}

// Roll, pitch, yaw as a product of three quaternions made with package math.
func TestRPYAgreesWithQuaternionAlgebra(t *testing.T) {
	r := random(2)
	for range rounds {
		a := geom.RPY{Roll: 800 * (r.Float64() - 0.5), Pitch: 800 * (r.Float64() - 0.5), Yaw: 800 * (r.Float64() - 0.5)}
		half := func(degrees float64) (s, c float64) { return math.Sincos(degrees * math.Pi / 360) }
		sx, cx := half(a.Roll)
		sy, cy := half(a.Pitch)
		sz, cz := half(a.Yaw)
		q := quat.Mul(quat.Number{Real: cz, Kmag: sz}, quat.Mul(quat.Number{Real: cy, Jmag: sy}, quat.Number{Real: cx, Imag: sx}))
		nearRot(t, "rpy", a.Rot(), rotOf(t, q), 1e-13)
	}
}

func TestRotationKeepsLengthAndHand(t *testing.T) {
	r := random(3)
	for range rounds {
		turn, v, w := rotOf(t, randomQuat(r)), randomVec(r), randomVec(r)
		near(t, "length", turn.Apply(v).Norm(), v.Norm(), 1e-11)
		nearVec(t, "hand", turn.Apply(v).Cross(turn.Apply(w)), turn.Apply(v.Cross(w)), 1e-8)
		nearRot(t, "transpose", turn.Mul(turn.T()), geom.IdentityRot(), 1e-14)
	}
}

func TestRepresentationsReturn(t *testing.T) {
	r := random(4)
	for range rounds {
		turn := rotOf(t, randomQuat(r))
		nearRot(t, "rpy", turn.RPY().Rot(), turn, 1e-14)
		w, x, y, z := turn.Quaternion()
		back, _ := geom.Quaternion(w, x, y, z)
		nearRot(t, "quaternion", back, turn, 1e-14)
		if w < 0 {
			t.Errorf("quaternion of %v has a negative first part %v", turn, w)
		}
		nearRot(t, "vector", geom.RotFromVector(turn.Vector()), turn, 1e-14)
		near(t, "angle", turn.Angle(), turn.Vector().Norm(), 1e-12)
		a, b, c := turn.EulerZYX()
		nearRot(t, "zyx", geom.RotZ(a).Mul(geom.RotY(b)).Mul(geom.RotX(c)), turn, 1e-14)
		a, b, c = turn.EulerZYZ()
		nearRot(t, "zyz", geom.RotZ(a).Mul(geom.RotY(b)).Mul(geom.RotZ(c)), turn, 1e-14)
	}
}

// Angles already canonical come back as they are.
func TestRPYAnglesReturn(t *testing.T) {
	r := random(5)
	for range rounds {
		a := geom.RPY{Roll: 360*r.Float64() - 180, Pitch: 178*r.Float64() - 89, Yaw: 360*r.Float64() - 180}
		b := a.Rot().RPY()
		if !(math.Abs(a.Roll-b.Roll)+math.Abs(a.Pitch-b.Pitch)+math.Abs(a.Yaw-b.Yaw) <= 1e-10) {
			t.Errorf("%v came back as %v", a, b)
		}
	}
}

func TestPoseAndInverseCancel(t *testing.T) {
	r := random(6)
	for range rounds {
		p, q, v := randomPose(t, r), randomPose(t, r), randomVec(r)
		nearVec(t, "there and back", p.Inverse().Apply(p.Apply(v)), v, 1e-11)
		nearVec(t, "nested", p.Mul(q).Apply(v), p.Apply(q.Apply(v)), 1e-11)
		both := p.Mul(p.Inverse())
		nearRot(t, "turn cancels", both.R, geom.IdentityRot(), 1e-14)
		nearVec(t, "shift cancels", both.T, geom.Vec{}, 1e-11)
	}
}

// Package math's own functions, to a few units in the last place.
func TestTrigonometryAgreesWithPackageMath(t *testing.T) {
	r := random(7)
	for range rounds {
		d := 1440 * (r.Float64() - 0.5)
		s, c := geom.SinCos(d)
		ms, mc := math.Sincos(d * math.Pi / 180)
		near(t, "sine", s, ms, 3e-15)
		near(t, "cosine", c, mc, 3e-15)
		y, x := r.NormFloat64(), r.NormFloat64()
		near(t, "arc tangent", geom.Atan2(y, x), math.Atan2(y, x)*180/math.Pi, 6e-14)
	}
}
