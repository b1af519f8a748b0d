package arm

import (
	"math/rand/v2"
	"testing"

	"gridferry/gen/geom"
)

// upright is an arm of invented dimensions with a spherical wrist: every test may turn it as it likes.
func upright(t testing.TB) *Arm {
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	joint := func(axis geom.Vec, x, z float64) Joint {
		return Joint{Axis: axis, Point: geom.Vec{X: x, Z: z}, Lo: -180, Hi: 180}
	}
	a, err := New(
		[]Joint{joint(z, 0, 0), joint(y, 50, 300), joint(y, 50, 570), joint(x, 50, 600), joint(y, 330, 600), joint(x, 330, 600)},
		geom.At(geom.Vec{X: 400, Z: 600}, geom.RPY{Pitch: 90}))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Readings a few degrees off are polished to those that gave the pose, and listed once.
func TestAdd(t *testing.T) {
	a, r := upright(t), rand.New(rand.NewPCG(1, 1))
	for range 1000 {
		var want, off Readings
		for i := range a.Joints {
			want[i] = 300*r.Float64() - 150
			off[i] = want[i] + 0.4*r.Float64() - 0.2
		}
		s := solutions{arm: a, flange: a.Pose(want)}
		for range 2 {
			s.add(off, off)
		}
		if len(s.list) != 1 {
			t.Errorf("%v: %d solutions, wanted one", want, len(s.list))
			continue
		}
		if way := size(a.way(s.list[0].Readings, want)); way > 1e-7 || s.list[0].Singular {
			t.Errorf("%v: got %v", want, s.list[0])
		}
	}
}

// With the wrist straight joints 4 and 6 may be turned against each other, and each takes half of what
// both are off.
func TestAddStraightWrist(t *testing.T) {
	a := upright(t)
	s := solutions{arm: a, flange: a.Pose(Readings{10, -20, 30, 40, 0, 50})}
	s.add(Readings{10, -20, 30, 40, 0, 50}, Readings{0, 0, 0, 20, 0, 90})
	want := Readings{10, -20, 30, 10, 0, 80}
	if len(s.list) != 1 || !s.list[0].Singular || s.list[0].Free != 1<<3|1<<5 || size(a.way(s.list[0].Readings, want)) > 1e-6 {
		t.Errorf("got %v", s.list)
	}
}

// With the arm stretched two solutions are one, but no joint is free.
func TestAddStretchedArm(t *testing.T) {
	a := upright(t)
	stretched := geom.Atan2(30, 280) // over the elbow to the wrist
	q := Readings{10, 20, 0, 40, 50, 60}
	q[2] = -90 + stretched
	s := solutions{arm: a, flange: a.Pose(q)}
	for _, off := range []float64{0.001, -0.001} {
		r := q
		r[2] += off
		r[1] -= off / 2
		s.add(r, r)
	}
	if len(s.list) != 1 || !s.list[0].Singular || s.list[0].Free != 0 || size(a.way(s.list[0].Readings, q)) > 1e-5 {
		t.Errorf("stretched: got %v, wanted %v", s.list, q)
	}
}
