package fit_test

import (
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
