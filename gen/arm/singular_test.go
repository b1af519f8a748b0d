package arm

import (
	"math"
	"testing"
)

// At singular poses the solutions hold the readings that gave the pose, where these are what was near; the
// joints that are free are said, and no others; and what was near is answered by what is nearest.
func TestSolveAtSingularPoses(t *testing.T) {
	a := upright(t)
	stretched := -83.8844964337146 // atan(280/30): the arm is straight there
	over := overAxis1(a, 25)
	for _, c := range []struct {
		what string
		q    Readings
		free uint8
	}{
		{"wrist straight", Readings{10, -20, 30, 40, 0, 50}, 1<<3 | 1<<5},
		{"wrist folded", Readings{10, -20, 30, 40, 180, 50}, 1<<3 | 1<<5},
		{"wrist centre over axis 1", Readings{10, over, 25, 30, 40, 50}, 1 | 1<<3 | 1<<4 | 1<<5},
		{"arm stretched", Readings{10, 20, stretched, 30, 40, 50}, 0},
		{"arm stretched, wrist straight", Readings{10, 20, stretched, 30, 0, 50}, 1<<3 | 1<<5},
	} {
		flange := a.Pose(c.q)
		least := math.Inf(1)
		for _, s := range a.Solve(flange, c.q, nil) {
			way := size(a.way(s.Readings, c.q))
			if way > 1e-5 {
				continue
			}
			least = way
			if !s.Singular || s.Free != c.free {
				t.Errorf("%s: %v, wanted the free joints %b", c.what, s, c.free)
			}
		}
		if least > 1e-5 {
			t.Errorf("%s: %v is not among %v", c.what, c.q, a.Solve(flange, c.q, nil))
		}
		answersNearest(t, a, c.what, c.q, c.free)
	}
}

// answersNearest moves what is near away from readings and demands an answer that is not farther than they are.
func answersNearest(t *testing.T, a *Arm, what string, q Readings, free uint8) {
	t.Helper()
	for i := range 6 {
		if free>>i&1 == 0 {
			continue
		}
		near := q
		near[i] += 20
		best := math.Inf(1)
		for _, s := range a.Solve(a.Pose(q), near, nil) {
			best = min(best, size(a.way(s.Readings, near)))
		}
		if was := size(a.way(q, near)); best > 0.99*was {
			t.Errorf("%s: near %v the answer is %g away, and %v is only %g", what, near, best, q, was)
		}
	}
}

// Close to singular poses no solution is lost either.
func TestSolveCloseToSingularPoses(t *testing.T) {
	a := upright(t)
	d := roll(6)
	var list []Solution
	for range arms(t, 600) {
		q := d.readings(a)
		near := math.Pow(10, -2-8*d.Float64()) * float64(1-2*d.IntN(2))
		switch d.IntN(3) {
		case 0:
			q[4] = near
		case 1:
			q[2] = -83.8844964337146 + near
		case 2:
			q[1], q[2] = overAxis1(a, 25)+near, 25
		}
		list = a.Solve(a.Pose(q), q, list[:0])
		found(t, a, q, list)
		if t.Failed() {
			t.Fatalf("%g off a singular pose", near)
		}
	}
}
