package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// fourAxes is a four-axis arm of invented dimensions: two turning joints, one that slides, one that turns, all upright, and
// the flange looking down.
func fourAxes(t testing.TB) *Arm {
	up := geom.Vec{Z: 1}
	a, err := New([]Joint{
		{Name: "J1", Axis: up, Lo: -130, Hi: 130},
		{Name: "J2", Axis: up, Point: geom.Vec{X: 325}, Lo: -145, Hi: 145},
		{Name: "J3", Slides: true, Axis: up, Lo: -200, Hi: 0},
		{Name: "J4", Axis: up, Point: geom.Vec{X: 600}, Lo: -360, Hi: 360},
	}, geom.At(geom.Vec{X: 600, Z: 180}, geom.RPY{Roll: 180}))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// fiveAxes is an upright arm of invented dimensions: a base, three level axes, a roll.
func fiveAxes(t testing.TB) *Arm {
	level := geom.Vec{Y: 1}
	a, err := New([]Joint{
		{Name: "J1", Axis: geom.Vec{Z: 1}, Lo: -170, Hi: 170},
		{Name: "J2", Axis: level, Point: geom.Vec{X: 40, Z: 280}, Lo: -100, Hi: 110},
		{Name: "J3", Axis: level, Point: geom.Vec{X: 40, Z: 560}, Lo: -150, Hi: 150},
		{Name: "J4", Axis: level, Point: geom.Vec{X: 300, Z: 560}, Lo: -120, Hi: 120},
		{Name: "J5", Axis: geom.Vec{X: 1}, Point: geom.Vec{X: 300, Z: 560}, Lo: -350, Hi: 350},
	}, geom.At(geom.Vec{X: 390, Z: 560}, geom.RPY{Pitch: 90}))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What an arm can turn to, worked out by hand: an arm with upright axes only is off by the tilt; one that turns about
// Z and then X can take its own X axis to the level only; and one that can turn everywhere is never off.
func TestNearestTurn(t *testing.T) {
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	still, err := New([]Joint{{Slides: true, Axis: x}, {Slides: true, Axis: y}, {Slides: true, Axis: z}}, geom.Identity)
	if err != nil {
		t.Fatal(err)
	}
	head, err := New([]Joint{{Slides: true, Axis: x}, {Slides: true, Axis: y}, {Slides: true, Axis: z}, {Axis: z}, {Axis: x}}, geom.Identity)
	if err != nil {
		t.Fatal(err)
	}
	down := geom.RotX(180)
	for _, c := range []struct {
		what string
		arm  *Arm
		is   geom.Rot
		want geom.Rot
		off  float64
		says string
	}{
		{"no joint turns", still, geom.RotZ(3), geom.IdentityRot(), 3, "not at all"},
		{"upright", fourAxes(t), geom.RotZ(25).Mul(down), geom.RotZ(25).Mul(down), 0, "about the vertical only"},
		{"tilted by 3.2°", fourAxes(t), geom.RotY(3.2).Mul(geom.RotZ(25)).Mul(down), geom.RotZ(25).Mul(down), 3.2, "about the vertical only"},
		{"turned over", fourAxes(t), geom.IdentityRot(), geom.Rot{}, 180, "about the vertical only"},
		{"head", head, geom.RotZ(40).Mul(geom.RotX(-70)), geom.RotZ(40).Mul(geom.RotX(-70)), 0, "only so that its last axis stands at 90° to the first"},
		{"head, X raised", head, geom.RotY(-8), geom.IdentityRot(), 8, "only so that its last axis stands at 90° to the first"},
		{"five axes", fiveAxes(t), geom.RPY{Roll: 10, Pitch: 20, Yaw: 30}.Rot(), geom.RPY{Roll: 10, Pitch: 20, Yaw: 30}.Rot(), 0, "in ways that depend on the place"},
	} {
		got, off := c.arm.NearestTurn(c.is)
		if math.Abs(off-c.off) > 1e-9 || math.Abs(got.T().Mul(c.is).Angle()-off) > 1e-9 {
			t.Errorf("%s: got %v off, wanted %v; what is given is %v off", c.what, off, c.off, got.T().Mul(c.is).Angle())
		}
		if says := c.arm.Turns(); says != c.says {
			t.Errorf("%s: it turns its flange %s, wanted %s", c.what, says, c.says)
		}
		if c.want != (geom.Rot{}) && got.T().Mul(c.want).Angle() > 1e-9 {
			t.Errorf("%s: got %v, wanted %v", c.what, got.RPY(), c.want.RPY())
		}
	}
}

// No turn that an arm makes is nearer to a wanted one than the nearest, which is as far off as it says, and it makes that one: of random
// arms with up to three joints that turn about any axes.
func TestNothingIsNearer(t *testing.T) {
	d := roll(31)
	limited := 0
	for range arms(t, 500) {
		joints, flange := d.chain([]link{d.any(), d.any(), d.any()}[:1+d.IntN(3)]...)
		for range 3 {
			joints = append(joints, Joint{Slides: true, Axis: []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}[len(joints)%3]})
		}
		a, err := New(joints, flange)
		if err != nil { // parallel axes, or one line
			continue
		}
		wanted := d.pose()
		nearest, off := a.NearestTurn(wanted.R)
		if off > 0 {
			limited++
		}
		if is := nearest.T().Mul(wanted.R).Angle(); math.Abs(is-off) > 1e-9 {
			t.Errorf("%+v: said to be %v off, is %v", joints, off, is)
		}
		if list := a.Solve(geom.Pose{R: nearest, T: wanted.T}, Readings{}, nil); len(list) == 0 {
			t.Errorf("%+v: does not turn to what is said to be the nearest", joints)
		}
		for range 200 {
			if is := a.Pose(d.readings(a)).R.T().Mul(wanted.R).Angle(); is < off-1e-9 {
				t.Errorf("%+v: %v is off by %v, said to be the nearest with %v", joints, wanted.R, is, off)
			}
		}
		if t.Failed() {
			return
		}
	}
	if limited < arms(t, 500)/4 {
		t.Errorf("only %d poses were out of what the arm turns to", limited)
	}
}

// A pose out of a tilted frame: the tip stays, the turn is the tilt, and the arm comes to what is given.
func TestNearestKeepsTheTip(t *testing.T) {
	tip := geom.Vec{X: 3, Y: -2, Z: 132}
	for _, c := range []struct {
		what   string
		arm    *Arm
		wanted geom.Pose // of the tip
		off    float64   // -1 where it is not worked out by hand
	}{
		{"four axes, tilted by 0.03°", fourAxes(t), geom.Pose{R: geom.RotX(0.03).Mul(geom.RotX(180)), T: geom.Vec{X: 400, Y: 120, Z: -30}}, 0.03},
		{"five axes, leaning towards the base", fiveAxes(t), geom.Pose{R: geom.RotZ(90).Mul(geom.RotY(4)).Mul(geom.RotX(180)), T: geom.Vec{Y: 350, Z: 100}}, -1},
		{"five axes, leaning aside", fiveAxes(t), geom.Pose{R: geom.RotX(0.03).Mul(geom.RotX(180)), T: geom.Vec{X: 350, Z: 100}}, -1},
		{"five axes, leaning far aside", fiveAxes(t), geom.Pose{R: geom.RotX(12).Mul(geom.RotX(180)), T: geom.Vec{X: 350, Y: 10, Z: 100}}, -1},
	} {
		flange := c.wanted.Mul(geom.Pose{R: geom.IdentityRot(), T: tip}.Inverse())
		nearest, off := c.arm.Nearest(flange, tip, Readings{})
		way := nearest.Apply(tip).Dist(c.wanted.T)
		_, turned := Off(nearest, flange)
		if way > 1e-7 || math.Abs(turned-off) > 1e-9 || c.off >= 0 && math.Abs(off-c.off) > 1e-9 {
			t.Errorf("%s: the tip is off by %v mm, the turn by %v°, said %v, wanted %v", c.what, way, turned, off, c.off)
		}
		list := c.arm.Solve(nearest, Readings{}, nil)
		if len(list) == 0 {
			t.Errorf("%s: the arm does not come to the nearest", c.what)
		}
		if len(c.arm.Solve(flange, Readings{}, nil)) > 0 {
			t.Errorf("%s: it comes to what it cannot turn to", c.what)
		}
		for _, one := range list {
			nothingBeside(t, c.what, c.arm, one.Readings, c.wanted, tip, off)
		}
		t.Logf("%s: off %.6f°", c.what, off)
	}
}

// nothingBeside demands that every small change of the readings that keeps the tip where it is turns the flange away from what is wanted:
// found by brute force, with differences of its own.
func nothingBeside(t *testing.T, what string, a *Arm, r Readings, wanted geom.Pose, tip geom.Vec, off float64) {
	t.Helper()
	d := roll(7)
	for range 100 {
		moved := r
		for i := range a.Joints {
			moved[i] += 0.2 * (d.Float64() - 0.5)
		}
		for range 30 { // back to the place, by the least change: Jᵀ(JJᵀ)⁻¹, by one joint after the other
			for i := range a.Joints {
				ahead := moved
				ahead[i] += 1e-4
				here, there := a.Pose(moved).Apply(tip), a.Pose(ahead).Apply(tip)
				way := there.Sub(here).Scale(1e4)
				if n := way.Dot(way); n > 1 {
					moved[i] += way.Dot(wanted.T.Sub(here)) / n
				}
			}
		}
		pose := a.Pose(moved)
		if pose.Apply(tip).Dist(wanted.T) > 1e-3 || size(a.way(moved, r)) > 0.05 {
			continue // did not come back
		}
		if is := pose.R.T().Mul(wanted.R).Angle(); is < off-2e-4 {
			t.Errorf("%s: %v is off by %v°, nearer than %v°", what, moved, is, off)
		}
	}
}

// A pose that was reached and is turned by 0.03° about the tip is no further than that off the nearest, which is reached: for every kind of arm.
func TestNearestOfTilted(t *testing.T) {
	tip := geom.Vec{X: 3, Y: -2, Z: 132}
	for _, k := range fewKinds {
		a, d := k.make(t), roll(13)
		for range k.cases(t, a, 90) {
			q := a.anyReadings(d.Rand)
			flange := a.Pose(q)
			var e equations
			if a.equate(&q, flange, &e); len(k.joints) > 3 {
				if _, least := e.eliminate(); least < 0.1 { // stretched, it might no longer reach
					continue
				}
			}
			tilted := flange.Mul(geom.Pose{R: geom.IdentityRot(), T: tip}).Mul(geom.Pose{R: turn(d.direction(), toward(0.03))}).Mul(geom.Pose{R: geom.IdentityRot(), T: tip}.Inverse())
			nearest, off := a.Nearest(tilted, tip, Readings{})
			if off > 0.03+1e-9 || nearest.Apply(tip).Dist(flange.Apply(tip)) > 1e-6 {
				t.Errorf("%s: %v: off by %v°, the tip by %v mm", k.name, q, off, nearest.Apply(tip).Dist(flange.Apply(tip)))
			}
			if off < 0.03-1e-9 && len(a.Solve(nearest, Readings{}, nil)) == 0 {
				t.Errorf("%s: %v: the nearest, %v° off, is not reached", k.name, q, off)
			}
		}
	}
}
