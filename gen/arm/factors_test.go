package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// determinant of the equations' Jacobian.
func determinant(a *Arm, r Readings) float64 {
	var q equations
	a.equate(&r, a.Pose(r), &q)
	det := 1.0
	for k := range 6 {
		row := k
		for i := k; i < 6; i++ {
			if math.Abs(q.j[i][k]) > math.Abs(q.j[row][k]) {
				row = i
			}
		}
		if row != k {
			q.j[k], q.j[row] = q.j[row], q.j[k]
			det = -det
		}
		det *= q.j[k][k]
		for i := k + 1; i < 6; i++ {
			f := q.j[i][k] / q.j[k][k]
			for j := k; j < 6; j++ {
				q.j[i][j] -= f * q.j[k][j]
			}
		}
	}
	return det
}

// factored makes arms that have factors, of both classes.
func (d dice) factored(t *testing.T) *Arm {
	for {
		a := d.spherical(t)
		if d.IntN(2) == 0 {
			a = d.parallels(t)
		}
		if a.factored != nil {
			return a
		}
	}
}

// The determinant of the Jacobian is the product of the factors but for a constant of the arm.
func TestFactorsMakeTheDeterminant(t *testing.T) {
	d := roll(4)
	for range arms(t, 2000) {
		a := d.factored(t)
		constant := 0.0
		for i := range 4 {
			q := d.readings(a)
			f, ok := a.Factors(q)
			if !ok {
				t.Fatal("an arm lost its factors")
			}
			product := f[0] / a.length * f[1] * f[2]
			if math.Abs(product) < 1e-4 {
				continue
			}
			if got := determinant(a, q) / product; i == 0 || constant == 0 {
				constant = got
			} else if math.Abs(got-constant) > 1e-8*math.Abs(constant)/math.Abs(product) {
				t.Fatalf("%s %+v\n%v: the determinant is %g times the product of %v, and was %g times", a.Class(), a.Joints, q, got, f, constant)
			}
		}
	}
}

// All solutions of a pose differ in the signs of their factors.
func TestFactorsTellSolutionsApart(t *testing.T) {
	d := roll(5)
	eights := 0
	for range arms(t, 2000) {
		a := d.factored(t)
		q := d.readings(a)
		list := a.Solve(a.Pose(q), q, nil)
		seen := map[[3]bool]bool{}
		singular := false
		for _, s := range list {
			f, _ := a.Factors(s.Readings)
			seen[[3]bool{f[0] > 0, f[1] > 0, f[2] > 0}] = true
			singular = singular || s.Singular
		}
		if len(seen) != len(list) && !singular {
			t.Fatalf("%s %+v\n%v: %d solutions, %d triples of signs", a.Class(), a.Joints, q, len(list), len(seen))
		}
		if len(list) == 8 {
			eights++
		}
	}
	if eights < arms(t, 2000)/10 {
		t.Errorf("only %d poses had eight solutions", eights)
	}
}

// A usual arm with its hand hanging in front of it is front, up, up, whichever way its axes point; and each word
// is what it says.
func TestFactorsOfUsualArm(t *testing.T) {
	for signs := range 64 {
		a := upright(t)
		joints := append([]Joint(nil), a.Joints...)
		sense := [6]float64{}
		for i := range joints {
			sense[i] = 1 - 2*float64(signs>>i&1)
			joints[i].Axis = joints[i].Axis.Scale(sense[i])
		}
		a, err := New(joints, a.Flange)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			what     string
			readings Readings
			want     [3]float64
		}{
			{"all at 0, the hand bent down", Readings{4: 90}, [3]float64{330, 1, 1}},
			{"joint 1 turns everything", Readings{0: 77, 4: 90}, [3]float64{330, 1, 1}},
			{"the hand bent up", Readings{4: -90}, [3]float64{330, 1, -1}},
			{"leaning over to the back", Readings{1: -90}, [3]float64{50 - 300, 1, 0}},
			{"the elbow hanging", Readings{1: 90, 2: -160, 4: 30}, [3]float64{0, -1, 1}},
		} {
			q := c.readings
			for i := range q[:6] {
				q[i] *= sense[i]
			}
			want := c.want
			want[2] *= sense[4]
			f, ok := a.Factors(q)
			for i, v := range want {
				if !ok || (math.Abs(v) > 1) && math.Abs(f[i]-v) > 1e-9 || v*f[i] < 0 || v == 0 && i > 0 && math.Abs(f[i]) > 1e-12 {
					t.Errorf("signs %06b, %s: got %v, wanted %v", signs, c.what, f, want)
				}
			}
		}
	}
}

// What is singular by a factor of 0 is singular.
func TestFactorsAtSingularPoses(t *testing.T) {
	a := upright(t)
	stretched := -90 + geom.Atan2(30, 280)
	for i, q := range []Readings{{10, overAxis1(a, 25), 25, 30, 40, 50}, {10, 20, stretched, 30, 40, 50}, {10, 20, 30, 40, 0, 50}} {
		f, _ := a.Factors(q)
		if math.Abs(f[i]) > 1e-9 {
			t.Errorf("%v: factors %v, wanted 0 in place %d", q, f, i+1)
		}
		if det := determinant(a, q); math.Abs(det) > 1e-9 {
			t.Errorf("%v: the determinant is %g, wanted 0", q, det)
		}
	}
}

// overAxis1 is the reading of joint 2 that brings the wrist centre over axis 1, by halving.
func overAxis1(a *Arm, third float64) float64 {
	lo, hi := -90.0, 90.0
	for range 100 {
		middle := (lo + hi) / 2
		if f, _ := a.Factors(Readings{1: middle, 2: third}); f[0] > 0 {
			hi = middle
		} else {
			lo = middle
		}
	}
	return lo
}
