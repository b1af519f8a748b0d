package geom_test

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// Every orientation square to its parent: whole numbers in the matrix, canonical
// angles out, and no -0 anywhere.
func TestSquareTurnsAreExact(t *testing.T) {
	seen := map[geom.Rot]geom.RPY{}
	for roll := -720.0; roll <= 720; roll += 90 {
		for pitch := -720.0; pitch <= 720; pitch += 90 {
			for yaw := -720.0; yaw <= 720; yaw += 90 {
				checkSquare(t, geom.RPY{Roll: roll, Pitch: pitch, Yaw: yaw}, seen)
			}
		}
	}
	if len(seen) != 24 {
		t.Errorf("got %d square orientations, want the 24 of a cube", len(seen))
	}
}

func checkSquare(t *testing.T, a geom.RPY, seen map[geom.Rot]geom.RPY) {
	t.Helper()
	r := a.Rot()
	for _, row := range r {
		for _, x := range row {
			if x != 0 && x != 1 && x != -1 {
				t.Fatalf("%v: matrix holds %v", a, x)
			}
		}
	}
	got := r.RPY()
	if got.Rot() != r {
		t.Fatalf("%v: came back as %v, another orientation", a, got)
	}
	if before, again := seen[r]; again && before != got {
		t.Fatalf("%v: one orientation, two sets of angles: %v and %v", a, before, got)
	}
	seen[r] = got
	for _, x := range []float64{got.Roll, got.Pitch, got.Yaw} {
		if math.Mod(x, 90) != 0 || x <= -180 || x > 180 || x == 0 && math.Signbit(x) {
			t.Fatalf("%v: angles %v are not canonical", a, got)
		}
	}
	if math.Abs(got.Pitch) == 90 && got.Yaw != 0 || math.Abs(got.Pitch) > 90 {
		t.Fatalf("%v: angles %v are not canonical", a, got)
	}
}

func TestToolDownNeverReadsMinus180(t *testing.T) {
	const hair = 1e-15
	for _, r := range []geom.Rot{
		{{1, 0, 0}, {0, -1, hair}, {0, -hair, -1}},
		{{1, 0, 0}, {0, -1, -hair}, {0, hair, -1}},
		{{1, 0, 0}, {0, -1, 0}, {0, math.Copysign(0, -1), -1}},
	} {
		if got := r.RPY().Roll; got != 180 && math.Abs(got-180) > 1e-9 {
			t.Errorf("roll of %v: got %v, want 180", r, got)
		}
	}
}

// Close to the pole the angles jump, the orientation they stand for must not.
func TestNearThePole(t *testing.T) {
	for _, off := range []float64{0, 1e-13, 1e-10, 5e-9, 6e-9, 1e-7, 1e-4} {
		for _, pole := range []float64{90, -90} {
			r := geom.RPY{Roll: 20, Pitch: pole - off, Yaw: -75}.Rot()
			nearRot(t, "near the pole", r.RPY().Rot(), r, 2e-10)
		}
	}
}

func TestHalfTurnQuaternionSign(t *testing.T) {
	for _, c := range []struct {
		r          geom.Rot
		w, x, y, z float64
	}{
		{geom.RotX(180), 0, 1, 0, 0},
		{geom.RotY(-180), 0, 0, 1, 0},
		{geom.RotZ(180), 0, 0, 0, 1},
	} {
		if w, x, y, z := c.r.Quaternion(); w != c.w || x != c.x || y != c.y || z != c.z {
			t.Errorf("%v: got %v %v %v %v", c.r, w, x, y, z)
		}
		near(t, "angle", c.r.Angle(), 180, 0)
	}
}

// Half a turn about (1, -2, 0): the second part leads and is positive at first.
func TestHalfTurnQuaternionLeadsWithPlus(t *testing.T) {
	root := math.Sqrt(5)
	r, _ := geom.Quaternion(0, -1/root, 2/root, 0)
	w, x, y, z := r.Quaternion()
	near(t, "w", w, 0, 0)
	nearVec(t, "x y z", geom.Vec{X: x, Y: y, Z: z}, geom.Vec{X: 1 / root, Y: -2 / root}, 1e-15)
}

func TestSineAndCosineHaveNoMinusZero(t *testing.T) {
	for _, d := range []float64{math.Copysign(0, -1), -90, 180, -180, 270, 360, -360, 450} {
		if s, c := geom.SinCos(d); s == 0 && math.Signbit(s) || c == 0 && math.Signbit(c) {
			t.Errorf("%v: got %v, %v", d, s, c)
		}
	}
}

func TestQuaternionLength(t *testing.T) {
	for _, c := range []struct {
		scale float64
		ok    bool
	}{{1, true}, {1.0099, true}, {0.9901, true}, {1.011, false}, {0.989, false}, {0, false}, {-1, true}, {math.NaN(), false}, {math.Inf(1), false}} {
		r, ok := geom.Quaternion(0.5*c.scale, 0.5*c.scale, 0.5*c.scale, 0.5*c.scale)
		if ok != c.ok {
			t.Errorf("length %v: accepted %v, want %v", c.scale, ok, c.ok)
		}
		if ok {
			nearRot(t, "normalised", r, geom.Rot{{0, 0, 1}, {1, 0, 0}, {0, 1, 0}}, 1e-15)
		}
	}
}

func TestVectorsWithoutDirection(t *testing.T) {
	for _, v := range []geom.Vec{{}, {X: math.NaN()}, {Y: math.Inf(-1)}} {
		if u, ok := v.Unit(); ok || u != (geom.Vec{}) {
			t.Errorf("%v: got the direction %v, want none", v, u)
		}
	}
	if r := geom.RotFromVector(geom.Vec{}); r != geom.IdentityRot() {
		t.Errorf("no turn gives %v", r)
	}
	if v := geom.IdentityRot().Vector(); v != (geom.Vec{}) {
		t.Errorf("the vector of no turn is %v", v)
	}
	if !geom.Finite(1, -2) || geom.Finite(1, math.NaN()) || geom.Finite(math.Inf(1)) {
		t.Error("Finite is wrong about a number")
	}
}

func TestAtan2Corners(t *testing.T) {
	minus := math.Copysign(0, -1)
	for _, c := range []struct{ y, x, want float64 }{
		{0, 0, 0}, {minus, 1, 0}, {minus, -1, 180}, {0, -1, 180}, {1, 0, 90}, {-1, 0, -90}, {1, 1, 45}, {-1, -1, -135}, {1, -1, 135},
		{-1e-300, -1, 180},
	} {
		if got := geom.Atan2(c.y, c.x); got != c.want || math.Signbit(got) != (c.want < 0) {
			t.Errorf("Atan2(%v, %v): got %v, want %v", c.y, c.x, got, c.want)
		}
	}
	if !math.IsNaN(geom.Atan2(math.NaN(), 1)) {
		t.Error("the angle of NaN is a number")
	}
}

func TestAngleBetweenVectors(t *testing.T) {
	x := geom.Vec{X: 250}
	near(t, "right angle", x.AngleTo(geom.Vec{Y: 3}), 90, 0)
	near(t, "opposite", x.AngleTo(geom.Vec{X: -1}), 180, 0)
	near(t, "a millionth of a degree", x.AngleTo(geom.RotZ(1e-6).Apply(x)), 1e-6, 1e-15)
}
