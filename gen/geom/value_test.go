package geom_test

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// The figures come from sources outside this project; how each source was
// used is said beside it: "read" means read in the source itself or in an open
// copy; "memory" means remembered and recomputed, which proves the arithmetic
// but not that the book prints it; "constructed" means exact by construction.

// Modern Robotics (Lynch & Park) code library, documented example of MatrixExp3
// and AxisAng3: read.
func TestRotationVectorPublished(t *testing.T) {
	const degree = 180 / math.Pi
	v := geom.Vec{X: 1, Y: 2, Z: 3}.Scale(degree)
	r := geom.RotFromVector(v)
	nearRot(t, "matrix", r, geom.Rot{
		{-0.69492056, 0.71352099, 0.08929286},
		{-0.19200697, -0.30378504, 0.93319235},
		{0.69297817, 0.6313497, 0.34810748},
	}, 5e-9)
	axis, _ := v.Unit()
	nearVec(t, "axis", axis, geom.Vec{X: 0.26726124, Y: 0.53452248, Z: 0.80178373}, 1e-8)
	near(t, "angle", v.Norm()/degree, 3.7416573867739413, 1e-15)
	// The way back finds the shorter turn, the other way round the same axis.
	nearVec(t, "vector", r.Vector(), axis.Scale(v.Norm()-360), 1e-12)
}

// The same library, MatrixLog3: read. 120° about (1, 1, 1).
func TestRotationLogarithmPublished(t *testing.T) {
	r := geom.Rot{{0, 0, 1}, {1, 0, 0}, {0, 1, 0}}
	each := 1.20919958 * 180 / math.Pi
	nearVec(t, "vector", r.Vector(), geom.Vec{X: each, Y: each, Z: each}, 5e-7)
	near(t, "angle", r.Angle(), 120, 1e-13)
}

// The same library, TransInv: read.
func TestPoseInversePublished(t *testing.T) {
	p := geom.Pose{R: geom.Rot{{1, 0, 0}, {0, 0, -1}, {0, 1, 0}}, T: geom.Vec{Z: 3}}
	want := geom.Pose{R: geom.Rot{{1, 0, 0}, {0, 0, 1}, {0, -1, 0}}, T: geom.Vec{Y: -3}}
	if got := p.Inverse(); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}

// The same library, ScrewTrajectory: read. Part of a turn from none to 120° about
// (1, 1, 1), at the cubic time scalings 7/27 and 20/27; the first row is printed.
func TestPartOfATurnPublished(t *testing.T) {
	whole := geom.Rot{{0, 0, 1}, {1, 0, 0}, {0, 1, 0}}.Vector()
	for _, c := range []struct {
		part float64
		row  [3]float64
	}{
		{7.0 / 27, [3]float64{0.904, -0.250, 0.346}},
		{20.0 / 27, [3]float64{0.346, -0.250, 0.904}},
	} {
		r := geom.RotFromVector(whole.Scale(c.part))
		for j, want := range c.row {
			near(t, "first row", r[0][j], want, 5e-4)
		}
	}
}

// URDF XML specification, element origin: read. Its rpy is roll, pitch, yaw about
// fixed axes, R = Rz(yaw)·Ry(pitch)·Rx(roll); Craig, Introduction to Robotics, 3rd
// ed., eq. 2.64 and 2.71 (memory) gives the same product for moving Z, Y, X.
func TestRPYIsFixedXYZ(t *testing.T) {
	a := geom.RPY{Roll: 17, Pitch: -40, Yaw: 123}
	v := geom.Vec{X: 1, Y: 2, Z: 3}
	nearVec(t, "X, then Y, then Z", a.Rot().Apply(v),
		geom.RotZ(123).Apply(geom.RotY(-40).Apply(geom.RotX(17).Apply(v))), 1e-15)
}

// Craig 3rd ed., examples 2.1 and 2.2: memory.
func TestCraigTurnAndFrame(t *testing.T) {
	nearVec(t, "example 2.1", geom.RotZ(30).Apply(geom.Vec{Y: 2}), geom.Vec{X: -1, Y: 1.732}, 1e-3)
	frame := geom.At(geom.Vec{X: 10, Y: 5}, geom.RPY{Yaw: 30})
	nearVec(t, "example 2.2", frame.Apply(geom.Vec{X: 3, Y: 7}), geom.Vec{X: 9.098, Y: 12.562}, 1e-3)
}

// Craig 3rd ed., examples 2.8 and 2.9: memory. 30° about (0.707, 0.707, 0), first
// through the origin, then through (1, 2, 3).
func TestCraigTurnAboutAnAxis(t *testing.T) {
	axis, _ := geom.Vec{X: 1, Y: 1}.Unit()
	r := geom.RotFromVector(axis.Scale(30))
	nearRot(t, "example 2.8", r, geom.Rot{{0.933, 0.067, 0.354}, {0.067, 0.933, -0.354}, {-0.354, 0.354, 0.866}}, 5e-4)
	through := geom.Vec{X: 1, Y: 2, Z: 3}
	nearVec(t, "example 2.9", through.Sub(r.Apply(through)), geom.Vec{X: -1.13, Y: 1.13, Z: 0.05}, 1e-2)
}

// Inputs from Craig's MATLAB exercise 2A, results recomputed: memory.
func TestCraigAngles(t *testing.T) {
	r := geom.RPY{Roll: 30, Pitch: 20, Yaw: 10}.Rot()
	nearRot(t, "Z10 Y20 X30", r, geom.Rot{
		{0.925417, 0.018028, 0.378522}, {0.163176, 0.882564, -0.440970}, {-0.342020, 0.469846, 0.813798},
	}, 5e-7)
	nearQuaternion(t, r, 0.951549, 0.239298, 0.189308, 0.038135)
	nearRot(t, "the other order", geom.RotX(30).Mul(geom.RotY(20)).Mul(geom.RotZ(10)), geom.Rot{
		{0.925417, -0.163176, 0.342020}, {0.318796, 0.823173, -0.469846}, {-0.204874, 0.543838, 0.813798},
	}, 5e-7)

	pole := geom.RPY{Roll: -55, Pitch: 90, Yaw: 30}.Rot()
	nearRot(t, "pole", pole, geom.Rot{{0, -0.996195, 0.087156}, {0, 0.087156, 0.996195}, {-1, 0, 0}}, 5e-7)
	if got := pole.RPY(); got.Pitch != 90 || got.Yaw != 0 || math.Abs(got.Roll+85) > 1e-12 {
		t.Errorf("at the pole: got %v, want roll -85, pitch 90, yaw 0", got)
	}
}

// Recomputed from the stated turns, no printed source: each pair of orders gives
// different figures, so that a swapped order cannot pass.
func TestOrdersOfTurnsDiffer(t *testing.T) {
	moving := geom.RotZ(90).Mul(geom.RotY(45)).Mul(geom.RotX(30))
	nearRot(t, "moving Z90 Y45 X30", moving, geom.Rot{
		{0, -0.866025, 0.5}, {0.707107, 0.353553, 0.612372}, {-0.707107, 0.353553, 0.612372},
	}, 5e-7)
	nearQuaternion(t, moving, 0.701057, -0.092296, 0.430459, 0.560986)
	fixed := geom.RotX(30).Mul(geom.RotY(45)).Mul(geom.RotZ(90))
	nearRot(t, "fixed Z90 Y45 X30", fixed, geom.Rot{
		{0, -0.707107, 0.707107}, {0.866025, -0.353553, -0.353553}, {0.5, 0.612372, 0.612372},
	}, 5e-7)
	nearQuaternion(t, fixed, 0.560986, 0.430459, 0.092296, 0.701057)

	zyz := geom.RotZ(30).Mul(geom.RotY(60)).Mul(geom.RotZ(45))
	nearRot(t, "moving Z30 Y60 Z45", zyz, geom.Rot{
		{-0.047367, -0.659740, 0.75}, {0.789149, 0.435596, 0.433013}, {-0.612372, 0.612372, 0.5},
	}, 5e-7)
	a, b, c := zyz.EulerZYZ()
	nearVec(t, "back to Z30 Y60 Z45", geom.Vec{X: a, Y: b, Z: c}, geom.Vec{X: 30, Y: 60, Z: 45}, 1e-12)
	nearRot(t, "moving Z30 X60 Z45", geom.RotZ(30).Mul(geom.RotX(60)).Mul(geom.RotZ(45)), geom.Rot{
		{0.435596, -0.789149, 0.433013}, {0.659740, -0.047367, -0.75}, {0.612372, 0.612372, 0.5},
	}, 5e-7)
}

// Constructed: 60° about (-1, 1, 1), an exact matrix of thirds.
func TestRationalFrame(t *testing.T) {
	r := geom.FromColumns(
		geom.Vec{X: 2, Y: 1, Z: -2}.Scale(1.0/3),
		geom.Vec{X: -2, Y: 2, Z: -1}.Scale(1.0/3),
		geom.Vec{X: 1, Y: 2, Z: 2}.Scale(1.0/3))
	nearQuaternion(t, r, 0.8660254, -0.2886751, 0.2886751, 0.2886751)
	a := r.RPY()
	nearVec(t, "rpy", geom.Vec{X: a.Roll, Y: a.Pitch, Z: a.Yaw},
		geom.Vec{X: -26.5650512, Y: 41.8103149, Z: 26.5650512}, 1e-7)
	near(t, "angle", r.Angle(), 60, 1e-13)
}

func nearQuaternion(t *testing.T, r geom.Rot, w, x, y, z float64) {
	t.Helper()
	gw, gx, gy, gz := r.Quaternion()
	near(t, "w", gw, w, 5e-7)
	nearVec(t, "x y z", geom.Vec{X: gx, Y: gy, Z: gz}, geom.Vec{X: x, Y: y, Z: z}, 1e-6)
}
