package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// standard makes an arm of the rows of a table in the standard (distal) convention: a turn by the reading and
// a shift d along Z, then a shift a and a turn alpha along X. Angles in degrees.
func standard(rows []link) ([]Joint, geom.Pose) {
	p := geom.Identity
	joints := make([]Joint, len(rows))
	for i, l := range rows {
		joints[i] = Joint{Axis: p.R.Column(2), Point: p.T}
		p = p.Mul(geom.Pose{R: geom.RotZ(l.theta), T: geom.Vec{Z: l.d}}).Mul(geom.Pose{R: geom.RotX(l.alpha), T: geom.Vec{X: l.a}})
	}
	return joints, p
}

func near(t *testing.T, what string, got, want geom.Pose, within float64) {
	t.Helper()
	way, turned := Off(got, want)
	if !(way <= within && turned*math.Pi/180 <= within) {
		t.Errorf("%s: got %v, wanted %v", what, got, want)
	}
}

// The textbook's six-axis arm of Corke, Robotics, Vision and Control (Springer), chapter 7, in m: poses as printed, and
// both printed branches of the inverse.
func TestCorke(t *testing.T) {
	joints, flange := standard([]link{{0, 0, 0, 90}, {0, 0, 0.4318, 0}, {0.15005, 0, 0.0203, -90}, {0.4318, 0, 0, 90}, {0, 0, 0, -90}, {}})
	a, err := New(joints, flange)
	if err != nil {
		t.Fatal(err)
	}
	forward := geom.Rot{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}}
	nominal := geom.Pose{R: forward, T: geom.Vec{X: 0.596303, Y: -0.15005, Z: -0.014354}}
	const pi = math.Pi
	for _, c := range []struct {
		joints Readings // radians
		want   geom.Pose
		within float64
	}{
		{Readings{}, geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 0.4521, Y: -0.15005, Z: 0.4318}}, 1e-12},
		{Readings{0, pi / 2, -pi / 2}, geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 0.0203, Y: -0.15005, Z: 0.8636}}, 1e-12},
		{Readings{0, 0, -pi / 2}, geom.Pose{R: forward, T: geom.Vec{X: 0.8636, Y: -0.15005, Z: -0.0203}}, 1e-12},
		{Readings{0, pi / 4, pi, 0, pi / 4}, nominal, 1e-6},
		{Readings{2.6486, -3.9270, 0.0940, 2.5326, 0.9743, 0.3734}, nominal, 1e-4},
		{Readings{2.6486, -3.9270, 0.0940, -0.6090, -0.9743, -2.7682}, nominal, 1e-4},
	} {
		q := degrees(c.joints)
		near(t, "forward", a.Pose(q), c.want, c.within)
		list := a.Solve(a.Pose(q), q, nil)
		best := math.Inf(1)
		for _, s := range list {
			best = min(best, size(a.way(s.Readings, q)))
		}
		if best > 1e-6 {
			t.Errorf("%v is not among the %d solutions of its pose", c.joints, len(list))
		}
	}
	list := a.Solve(a.Pose(degrees(Readings{0, pi / 4, pi, 0, pi / 4})), Readings{}, nil)
	if len(list) != 8 {
		t.Errorf("the nominal pose has %d solutions, wanted 8", len(list))
	}
	for _, printed := range []Readings{{2.6486, -3.9270, 0.0940, 2.5326, 0.9743, 0.3734}, {2.6486, -3.9270, 0.0940, -0.6090, -0.9743, -2.7682}} {
		best := math.Inf(1)
		for _, s := range list {
			best = min(best, size(a.way(s.Readings, degrees(printed))))
		}
		if best > 2e-4 { // printed with four decimals
			t.Errorf("the printed branch %v is %g away from every solution", printed, best)
		}
	}
}

func degrees(radians Readings) Readings {
	for i := range radians {
		radians[i] *= 180 / math.Pi
	}
	return radians
}

// The all-zero pose of the classical research arm, by the table of Craig, Introduction to Robotics, 3rd ed., fig. 3.21 (modified
// convention), whatever its lengths are.
func TestCraig(t *testing.T) {
	for _, l := range [][4]float64{{431.8, 20.3, 124.5, 431.8}, {300, -50, 10, 250}} {
		a2, a3, d3, d4 := l[0], l[1], l[2], l[3]
		p := geom.Identity
		joints := make([]Joint, 6)
		for i, row := range []link{{}, {alpha: -90}, {a: a2, d: d3}, {alpha: -90, a: a3, d: d4}, {alpha: 90}, {alpha: -90}} {
			p = p.Mul(geom.Pose{R: geom.RotX(row.alpha), T: geom.Vec{X: row.a}}).Mul(geom.Pose{R: geom.IdentityRot(), T: geom.Vec{Z: row.d}})
			joints[i] = Joint{Axis: p.R.Column(2), Point: p.T}
		}
		a, err := New(joints, p)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "all zero", a.Pose(Readings{}), geom.Pose{R: geom.Rot{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, T: geom.Vec{X: a2 + a3, Y: d3, Z: -d4}}, 1e-12)
	}
}

// FKinSpace of Lynch & Park's published code library, with two turning joints and one of a pitch: that one is a turn and a
// slide by a tenth of its angle.
func TestLynchPark(t *testing.T) {
	a := Arm{
		Joints: []Joint{
			{Axis: geom.Vec{Z: 1}, Point: geom.Vec{Y: 4}}, // ω × -p = (4, 0, 0)
			{Slides: true, Axis: geom.Vec{Y: 1}},
			{Axis: geom.Vec{Z: -1}, Point: geom.Vec{Y: 6}}, // ω × -p = (-6, 0, 0)
			{Slides: true, Axis: geom.Vec{Z: -1}},
		},
		Flange: geom.Pose{R: geom.Rot{{-1, 0, 0}, {0, 1, 0}, {0, 0, -1}}, T: geom.Vec{Y: 6, Z: 2}},
	}
	want := geom.Pose{R: geom.Rot{{0, 1, 0}, {1, 0, 0}, {0, 0, -1}}, T: geom.Vec{X: -5, Y: 4, Z: 1.68584073}}
	near(t, "FKinSpace", a.Pose(Readings{90, 3, 180, 0.1 * math.Pi}), want, 1e-8)
}

// The planar arm of Craig's MATLAB exercise 3A: L = 4, 3, 2.
func TestPlanar(t *testing.T) {
	z := geom.Vec{Z: 1}
	a := Arm{
		Joints: []Joint{{Axis: z}, {Axis: z, Point: geom.Vec{X: 4}}, {Axis: z, Point: geom.Vec{X: 7}}},
		Flange: geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 9}},
	}
	for _, c := range []struct {
		joints      Readings
		x, y, angle float64
	}{{Readings{10, 20, 30}, 7.5373072, 3.9266435, 60}, {Readings{}, 9, 0, 0}, {Readings{90, 90, 90}, -3, 2, 270}} {
		near(t, "planar", a.Pose(c.joints), geom.At(geom.Vec{X: c.x, Y: c.y}, geom.RPY{Yaw: c.angle}), 1e-7)
	}
}

// The Jacobian is what small changes of the readings do, and Links are where points of the links go.
func TestJacobianIsDifferences(t *testing.T) {
	d := roll(3)
	const h = 1e-4
	for range 300 {
		joints, flange := d.chain(d.any(), d.any(), d.any(), d.any(), d.any(), d.any(), d.any())
		for i := range joints {
			joints[i].Slides = d.IntN(4) == 0
		}
		a := Arm{Joints: joints, Flange: flange}
		q := d.readings(&a)
		columns, links := a.Jacobian(q), a.Links(q)
		near(t, "the last link carries the flange", links[6].Mul(flange), a.Pose(q), 1e-9)
		for i := range joints {
			up, down := q, q
			up[i], down[i] = q[i]+h, q[i]-h
			by := 2 * h
			if !joints[i].Slides {
				by *= math.Pi / 180
			}
			p, m := a.Pose(up), a.Pose(down)
			linear, turn := p.T.Sub(m.T).Scale(1/by), turnTo(m.R, p.R).Scale(1/by)
			if linear.Dist(columns[i].Linear) > 1e-4 || turn.Dist(columns[i].Turn) > 1e-7 {
				t.Fatalf("joint %d of %+v at %v: got %v, differences %v and %v", i+1, a, q, columns[i], linear, turn)
			}
			near(t, "a link", a.Links(up)[i].Mul(links[i].Inverse()), p.Mul(a.Pose(q).Inverse()), 1e-9)
		}
	}
}
