package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// onX puts an arm on a rail along X.
func onX(t testing.TB, a *Arm) *Arm {
	t.Helper()
	r, err := New(append([]Joint{{Name: "rail", Slides: true, Axis: geom.Vec{X: 1}, Lo: 0, Hi: 2000}}, a.Joints...), a.Flange)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Rail() {
		t.Fatalf("%s is on no rail", r.Class())
	}
	return r
}

// Readings that made a pose are found again at their own reading of the rail.
func TestRailFindsAgain(t *testing.T) {
	for what, a := range map[string]*Arm{"six": onX(t, upright(t)), "four": onX(t, fourAxes(t)), "five": onX(t, fiveAxes(t))} {
		d := roll(3)
		var room [32]Solution
		for range arms(t, 2000) {
			q := d.readings(a)
			list := a.SolveAt(q[0], a.Pose(q), q, room[:0])
			if !isAmong(a, list, q) {
				t.Fatalf("%s: %v is not among %v", what, q, list)
			}
			for _, one := range list {
				if one.Readings[0] != q[0] {
					t.Fatalf("%s: the rail left %v for %v", what, q[0], one.Readings[0])
				}
				if way, turn := Off(a.Pose(one.Readings), a.Pose(q)); way > 1e-6 || turn > 1e-7 {
					t.Fatalf("%s: %v is off by %v mm, %v°", what, one, way, turn)
				}
			}
		}
	}
}

// The rail stays where it is as long as the arm reaches; else it moves no further than it has to. The four-axis arm reaches 600 mm from its first axis, so
// at y = 100 the rail may stand √(600² − 100²) mm before the pose.
func TestRailMovesNoFurtherThanNeeded(t *testing.T) {
	four := fourAxes(t)
	four.Joints[0].Lo, four.Joints[0].Hi = -180, 180
	a := onX(t, four)
	down := geom.RotX(180)
	reach := math.Sqrt(600*600 - 100*100)
	for _, c := range []struct{ x, was, want float64 }{
		{500, 300, 300}, {1500, 300, 1500 - reach}, {600, 1900, 600 + reach}, {1500, 1500 - reach + 1, 1500 - reach + 1}, {2500, -50, 2500 - reach},
	} {
		list := a.Solve(geom.Pose{R: down, T: geom.Vec{X: c.x, Y: 100, Z: 50}}, Readings{c.was}, nil)
		if len(list) == 0 {
			t.Errorf("%+v: no solution", c)
		}
		for _, one := range list {
			if math.Abs(one.Readings[0]-c.want) > 0.011 {
				t.Errorf("%+v: the rail reads %v", c, one.Readings[0])
			}
		}
	}
	for _, x := range []float64{-700, 2700} { // out of its way, whatever the rail reads
		if list := a.Solve(geom.Pose{R: down, T: geom.Vec{X: x, Y: 100, Z: 50}}, Readings{}, nil); len(list) > 0 {
			t.Errorf("x = %v: %v", x, list)
		}
	}
}

// A flange that leans out of the upright plane of a five-axis arm tells where the rail has to be.
func TestLeaningTellsTheRail(t *testing.T) {
	a := onX(t, fiveAxes(t))
	q := Readings{700, 70, 20, 50, 40, 60}
	list := a.Solve(a.Pose(q), Readings{100}, nil)
	if !isAmong(a, list, q) {
		t.Errorf("%v is not among %v", q, list)
	}
}
