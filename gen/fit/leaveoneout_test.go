package fit_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
)

// One point moved well beyond the noise is named, by its index, with how far it
// was moved.
func TestOneMovedPointIsNamed(t *testing.T) {
	r := random(30)
	for range rounds {
		nominal := cloud(r, 8)
		measured := shaken(r, 0.02, moved(randomPose(r), nominal))
		wrong := r.IntN(len(nominal))
		away, _ := randomVec(r).Unit()
		measured[wrong] = measured[wrong].Add(away.Scale(15))
		s, err := fit.LeaveOneOut(nominal, measured, 0.25)
		if err != nil {
			t.Fatal(err)
		}
		if s.Best != wrong || len(s.All) != 1 || s.All[0].Index != wrong {
			t.Fatalf("point %d was moved: got best %d of %v", wrong, s.Best, s.All)
		}
		near(t, "miss", s.All[0].Miss, 15, 0.5)
		if s.All[0].Largest > 0.25 || s.All[0].RMS > s.All[0].Largest {
			t.Errorf("figures without the point: %+v", s.All[0])
		}
	}
}

func TestNoPointIsNamedWithoutNeed(t *testing.T) {
	r := random(31)
	nominal := cloud(r, 6)
	s, err := fit.LeaveOneOut(nominal, shaken(r, 0.02, moved(randomPose(r), nominal)), 0.25)
	if err != nil || s.Best != -1 || len(s.All) != 0 {
		t.Errorf("good points: got %+v, %v", s, err)
	}
}

func TestTwoMovedPointsAreNotOne(t *testing.T) {
	r := random(32)
	nominal := cloud(r, 8)
	measured := moved(randomPose(r), nominal)
	measured[1] = measured[1].Add(vec(10, 0, 0))
	measured[5] = measured[5].Add(vec(0, 0, 10))
	s, err := fit.LeaveOneOut(nominal, measured, 0.25)
	if err != nil || s.Best != -1 || len(s.All) != 0 {
		t.Errorf("two wrong points: got %+v, %v", s, err)
	}
}

// Four corners of a table, one of them too high: any three of them make a plane,
// so that the points cannot show which one it is. All are listed; the best is the
// one without which the others also keep their distances best.
func TestFourFlatPointsCannotTell(t *testing.T) {
	nominal := []geom.Vec{vec(0, 0, 0), vec(200, 0, 0), vec(200, 100, 0), vec(0, 100, 0)}
	measured := slices.Clone(nominal)
	measured[2].Z = 4
	s, err := fit.LeaveOneOut(nominal, measured, 0.2)
	if err != nil {
		t.Fatal(err)
	}
	if s.Best != 2 || len(s.All) != 4 {
		t.Errorf("got best %d of %v, want 2 of four", s.Best, s.All)
	}
}

// Without the one point off the line nothing is left to fit.
func TestPointsThatHaveToStay(t *testing.T) {
	nominal := []geom.Vec{vec(0, 0, 0), vec(100, 0, 0), vec(200, 0, 0), vec(300, 0, 0), vec(150, 120, 0)}
	measured := slices.Clone(nominal)
	measured[1].X += 6
	s, err := fit.LeaveOneOut(nominal, measured, 0.2)
	if err != nil {
		t.Fatal(err)
	}
	if s.Best != 1 || !slices.Equal(s.Untried, []int{4}) {
		t.Errorf("got best %d, untried %v, want 1 and [4]", s.Best, s.Untried)
	}
}

// A corner entered on the wrong side can make the whole set look mirrored; the
// search goes on all the same.
func TestMovedPointThatMirrors(t *testing.T) {
	nominal := []geom.Vec{vec(0, 0, 0), vec(200, 0, 0), vec(0, 200, 0), vec(60, 60, 80), vec(100, 150, 0)}
	measured := slices.Clone(nominal)
	measured[3].Z = -80
	_, err := fit.BestFit(nominal, measured)
	refused(t, err, fit.Mirrored)
	s, err := fit.LeaveOneOut(nominal, measured, 0.2)
	if err != nil || s.Best != 3 || len(s.All) != 1 {
		t.Errorf("got %+v, %v, want point 3", s, err)
	}
}

func TestLeaveOneOutRefuses(t *testing.T) {
	three := []geom.Vec{vec(0, 0, 0), vec(200, 0, 0), vec(0, 200, 0)}
	_, err := fit.LeaveOneOut(three, three, 0.1)
	says(t, refused(t, err, fit.TooFew), "found 3 points, wanted 4 or more", "touch 1 more")
	four := append(three, vec(100, 100, 0))
	_, err = fit.LeaveOneOut(four, append(four, vec(9, 9, 9)), 0.1)
	refused(t, err, fit.Unequal)
}

// Leaving one out by what it adds to sums gives what fitting the others anew gives,
// whatever the points are like: many or few, flat or not, in one line but for one,
// far from where they are counted from.
func TestLeavingOutIsFittingTheOthers(t *testing.T) {
	r := random(33)
	tried := 0
	for round := range 4 * rounds {
		n := 4 + r.IntN(30)
		nominal := cloud(r, n)
		switch round % 4 {
		case 1: // flat, and mirror images are near
			for i := range nominal {
				nominal[i].Z /= 60
			}
		case 2: // in a line but for one
			for i := range nominal {
				nominal[i] = vec(float64(40*i), 0, 0)
			}
			nominal[r.IntN(n)].Y = 150
		}
		measured := shaken(r, 1, moved(randomPose(r), nominal))
		measured[r.IntN(n)].Z += 20 * r.NormFloat64()
		if round%8 > 3 {
			for i := range measured {
				measured[i].X += 5000
			}
		}
		tolerance := tightest(nominal, measured)
		got, err := fit.LeaveOneOut(nominal, measured, tolerance)
		if err != nil {
			continue // no answer, whoever asks: TestLeaveOneOutRefuses
		}
		tried++
		same(t, got, refitted(n, tolerance, func(i int) (float64, float64, float64, error) {
			f, err := fit.BestFit(but(i, nominal), but(i, measured))
			return f.Largest, f.RMS, measured[i].Dist(f.Pose.Apply(nominal[i])), err
		}))
	}
	if tried < 3*rounds {
		t.Errorf("only %d sets were tried", tried)
	}
}

// tightest is a tolerance that all points together just miss.
func tightest(nominal, measured []geom.Vec) float64 {
	f, err := fit.BestFit(nominal, measured)
	if err != nil {
		return 2
	}
	return f.Largest * 0.99
}

func TestLeavingOutAPoseIsTheOthersPivot(t *testing.T) {
	r := random(34)
	tried := 0
	for round := range 2 * rounds {
		tip, post := randomVec(r), randomVec(r)
		poses := pivoted(r, 4+r.IntN(30), tip, post)
		for i := range poses {
			if round%2 == 1 && i > 0 { // all but one turn about X
				poses[i].R = geom.RotFromVector(vec(float64(20*i), 0, 0))
				poses[i].T = post.Sub(poses[i].R.Apply(tip))
			}
			poses[i].T = poses[i].T.Add(randomVec(r).Scale(1e-3))
		}
		poses[r.IntN(len(poses))].T.Z += 20 * r.NormFloat64()
		all, err := fit.Pivot(poses)
		if err != nil {
			continue // the one pose is turned too little
		}
		tried++
		tolerance := all.Largest * 0.99
		got, err := fit.LeaveOneOutPose(poses, tolerance)
		if err != nil {
			t.Fatal(err)
		}
		same(t, got, refitted(len(poses), tolerance, func(i int) (float64, float64, float64, error) {
			c, err := fit.Pivot(but(i, poses))
			return c.Largest, c.RMS, poses[i].Apply(c.Tip).Dist(c.Post), err
		}))
	}
	if tried < rounds {
		t.Errorf("only %d sets were tried", tried)
	}
}

// refitted is leaving one out the long way.
func refitted(n int, tolerance float64, again func(i int) (largest, rms, miss float64, err error)) fit.Suspects {
	s := fit.Suspects{Best: -1}
	least := math.Inf(1)
	for i := range n {
		largest, rms, miss, err := again(i)
		var e *fit.Error
		switch {
		case errors.As(err, &e) && e.Kind != fit.Mirrored:
			s.Untried = append(s.Untried, i)
		case err == nil && largest <= tolerance:
			s.All = append(s.All, fit.Omission{Index: i, Largest: largest, RMS: rms, Miss: miss})
			if largest < least-1e-9 {
				least, s.Best = largest, i
			}
		}
	}
	return s
}

func but[T any](i int, all []T) []T { return slices.Delete(slices.Clone(all), i, i+1) }

func same(t *testing.T, got, want fit.Suspects) {
	t.Helper()
	if got.Best != want.Best || len(got.All) != len(want.All) || !slices.Equal(got.Untried, want.Untried) {
		t.Fatalf("got %+v, wanted %+v", got, want)
	}
	for i, w := range want.All {
		g := got.All[i]
		if g.Index != w.Index {
			t.Fatalf("got %+v, wanted %+v", g, w)
		}
		near(t, "largest", g.Largest, w.Largest, 1e-9)
		near(t, "rms", g.RMS, w.RMS, 1e-9)
		near(t, "miss", g.Miss, w.Miss, 1e-9)
	}
}

// As many points as one fit takes, and one more.
func TestMostPoints(t *testing.T) {
	r := random(35)
	nominal := make([]geom.Vec, fit.MostPoints+1)
	poses := make([]geom.Pose, fit.MostPoints+1)
	for i := range nominal {
		nominal[i] = vec(float64(10*(i%30)), float64(10*(i/30)), 5*r.NormFloat64())
		poses[i] = randomPose(r)
	}
	most := nominal[:fit.MostPoints]
	if _, err := fit.LeaveOneOut(most, most, 0.1); err != nil {
		t.Error(err)
	}
	if _, err := fit.LeaveOneOutPose(poses[:fit.MostPoints], 0.1); err != nil {
		t.Error(err)
	}
	_, err := fit.BestFit(nominal, nominal)
	says(t, refused(t, err, fit.TooMany), "found 1001 points, wanted 1000 or fewer", "leave out 1")
	_, err = fit.Pivot(poses)
	says(t, refused(t, err, fit.TooMany), "found 1001 poses, wanted 1000 or fewer", "leave out 1")
}
