package arm

import (
	"testing"

	"gridferry/gen/geom"
)

// The closed forms leave no garbage, at singular poses neither.
func TestClosedFormsLeaveNoGarbage(t *testing.T) {
	for _, a := range []*Arm{upright(t), skewed(t), threeLevel(t)} {
		for _, q := range []Readings{bent, {10, -20, 30, 40, 0, 50}} {
			var room [64]Solution
			flange := a.Pose(q)
			if n := testing.AllocsPerRun(20, func() { a.Solve(flange, q, room[:0]) }); n > 0 {
				t.Errorf("%s at %v: %v pieces of garbage", a.Class(), q, n)
			}
		}
	}
}

// With joint 3 at 180 the wrist centre of this arm is on axis 2 and moves along it, so that its distance from the axis is small of
// the second order, and the roots for joint 3 lie close together.
func TestWristCentreAlongAxis2(t *testing.T) {
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	centre := geom.Vec{X: 1.3, Z: 350}
	a, err := New([]Joint{
		{Axis: z}, {Axis: y, Point: geom.Vec{X: 1.3, Z: 300}}, {Axis: x, Point: geom.Vec{X: 101.3, Z: 325}},
		{Axis: x, Point: centre}, {Axis: z, Point: centre}, {Axis: geom.Vec{X: 0.6, Z: 0.8}, Point: centre},
	}, geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 60, Z: 430}})
	if err != nil {
		t.Fatal(err)
	}
	onAxis2 := a.Links(Readings{2: 180})[2].Apply(centre)
	if onAxis2.Dist(geom.Vec{X: 1.3, Z: 300}) > 1e-9 {
		t.Fatalf("the wrist centre is at %v, wanted on axis 2", onAxis2)
	}
	d := roll(12)
	var list []Solution
	for range arms(t, 2000) {
		q := d.readings(a)
		q[2] = 180.2 + 0.5*d.Float64() // nearer, rounding hides which of the roots are which
		list = a.Solve(a.Pose(q), q, list[:0])
		found(t, a, q, list)
		if t.Failed() {
			return
		}
	}
}
