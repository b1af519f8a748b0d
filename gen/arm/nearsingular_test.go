package arm

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// leastSingular is the least singular value of the Jacobian by gonum, ways in lengths of the arm.
func leastSingular(a *Arm, r Readings) float64 {
	columns := a.Jacobian(r)
	m := mat.NewDense(6, len(a.Joints), nil)
	for i := range a.Joints {
		way, turn := columns[i].Linear, columns[i].Turn
		if !a.Joints[i].Slides {
			way = way.Scale(1 / a.length)
		}
		for k, v := range [6]float64{way.X, way.Y, way.Z, turn.X, turn.Y, turn.Z} {
			m.Set(k, i, v)
		}
	}
	var svd mat.SVD
	svd.Factorize(m, mat.SVDNone)
	values := svd.Values(nil)
	return values[len(values)-1]
}

// TestNearSingularIsSingular: where it says that a joint leads to, gonum's least singular value is 0, whatever the kind of arm.
func TestNearSingularIsSingular(t *testing.T) {
	d := roll(31)
	found := 0
	for range arms(t, 60) {
		for _, a := range []*Arm{d.factored(t), upright(t), skewed(t), offsetArm(t), fourAxes(t), fiveAxes(t)} {
			r := d.readings(a)
			near, ok := a.NearSingular(r, 40, 80)
			if !ok {
				continue
			}
			found++
			least := math.Inf(1)
			for _, way := range []float64{-near.By, near.By} {
				there := r
				there[near.Joint] += way
				least = min(least, leastSingular(a, there))
			}
			if least > 1e-5 {
				t.Errorf("%s, at %v: joint %d leads to no singular place %g away: the least singular value is %g", a.Class(), r, near.Joint+1, near.By, least)
			}
		}
	}
	if found < 60 && !testing.Short() {
		t.Errorf("only %d singular places were found", found)
	}
}

// TestNearSingularIsNearest goes along each joint in small steps, and finds no place nearer where gonum's least singular
// value comes down to 0.
func TestNearSingularIsNearest(t *testing.T) {
	const most, step = 30.0, 0.2
	d := roll(32)
	for range arms(t, 8) {
		for _, a := range []*Arm{d.factored(t), skewed(t), fourAxes(t)} {
			r := d.readings(a)
			near, ok := a.NearSingular(r, most, most)
			if !ok {
				near.By = most
			}
			for i := range a.Joints {
				for _, sense := range []float64{-1, 1} {
					at := func(by float64) float64 {
						moved := r
						moved[i] += sense * by
						return leastSingular(a, moved)
					}
					for by := step; by < near.By-2*step; by += step {
						if at(by) > min(at(by-step), at(by+step)) || at(by) > 0.01 {
							continue
						}
						if place := lowest(at, by-step, by+step); at(place) < 1e-6 {
							t.Fatalf("%s, at %v: joint %d leads to a singular place %g away, but it says joint %d, %g (%v)", a.Class(), r, i+1, place, near.Joint+1, near.By, ok)
						}
					}
				}
			}
		}
	}
}

// The three kinds of singular places of a textbook arm, by its own figures: see TestSolveAtSingularPoses.
func TestNearSingularHasWords(t *testing.T) {
	a := upright(t)
	for _, c := range []struct {
		q      Readings
		joint  int
		by     float64
		factor int
	}{
		{Readings{10, -20, 30, 40, 12, 50}, 4, 12, 2},
		{Readings{10, -20, 30, 40, -172, 50}, 4, 8, 2},
		{Readings{10, 20, -83.8844964337146 + 7, 30, 40, 50}, 2, 7, 1},
		{Readings{10, overAxis1(a, 25) - 5, 25, 30, 40, 50}, 1, 5, 0},
	} {
		near, ok := a.NearSingular(c.q, 45, 90)
		if !ok || near.Joint != c.joint || math.Abs(near.By-c.by) > 1e-6 || near.Factor != c.factor {
			t.Errorf("%v: %+v (%v), wanted joint %d, %g, factor %d", c.q, near, ok, c.joint+1, c.by, c.factor)
		}
	}
	if near, ok := a.NearSingular(Readings{10, -20, 30, 40, 60, 50}, 20, 40); ok {
		t.Errorf("found %+v within 20°", near)
	}
	onRail := onX(t, a)
	if near, ok := onRail.NearSingular(Readings{300, 10, -20, 30, 40, 12, 50}, 45, 90); !ok || near.Joint != 5 || math.Abs(near.By-12) > 1e-6 || near.Factor != 2 {
		t.Errorf("on a rail: %+v (%v), wanted joint 6, 12, the wrist", near, ok)
	}
}
