package fit_test

import (
	"math"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
)

// trials is how many noisy measurements stand behind an observed spread: its own
// relative error is about 1/√(2·trials), well within the 5 % asked for.
const trials = 4000

// What Drift expects is what repeated measurements do: the place is moved by the
// turn alone, the shift of the middle of the points taken out.
func TestDriftIsWhatRepeatedTouchesShow(t *testing.T) {
	r := random(60)
	nominal := []geom.Vec{vec(0, 0, 0), vec(400, 10, 0), vec(380, 90, 5), vec(20, 60, 30), vec(200, 0, 12)}
	exact := bestFit(t, nominal, nominal)
	const touch = 0.01 // small, so that turns add up as vectors do
	for _, at := range []geom.Vec{vec(0, 0, 0), vec(900, 0, 0), vec(200, 700, 0), vec(150, 30, -400)} {
		sum := 0.0
		for range trials {
			f := bestFit(t, nominal, shaken(r, touch, nominal))
			moved := f.Pose.Apply(at).Sub(at)
			shift := f.Pose.Apply(f.Centre).Sub(f.Centre)
			sum += math.Pow(moved.Dist(shift), 2)
		}
		seen := math.Sqrt(sum / trials)
		near(t, "drift over what was seen", exact.Drift(touch, at)/seen, 1, 0.05)
	}
}

// The direction about which the turn is least certain is the points' long one.
func TestUncertaintyIsTheWorstTurn(t *testing.T) {
	nominal := []geom.Vec{vec(0, 0, 0), vec(400, 0, 0), vec(400, 40, 0), vec(0, 40, 0)}
	f := bestFit(t, nominal, nominal)
	// Four points 20 mm off the long axis: 0.1 over √(4·20²) = 0.1/40 rad.
	near(t, "worst turn", f.Uncertainty(0.1), 0.1/40*180/math.Pi, 1e-12)
	near(t, "drift across", f.Drift(0.1, vec(200, 20, 40)), 0.1*math.Hypot(40.0/40, 40.0/400), 2e-4)
}

// 0.1 mm over a baseline of 100 mm is 0.1 mm per 100 mm of distance. Common
// practice, no source.
func TestThreePointDrift(t *testing.T) {
	f, err := fit.ThreePoints(vec(0, 0, 0), vec(100, 0, 0), vec(70, 200, 0))
	if err != nil {
		t.Fatal(err)
	}
	direction, plane := f.Drift(0.1, vec(300, 400, 0))
	near(t, "by the direction of X", direction, 0.5, 1e-12)
	near(t, "by the turn about X", plane, 0.2, 1e-12)
}

func TestGainIsWhatRepeatedPosesShow(t *testing.T) {
	r := random(61)
	poses := posesOf([][6]float64{{470, 220, 150, 0, 0, 0}, {0, 0, 0, 20, 0, 0}, {0, 0, 0, 0, 5, 40}, {0, 0, 0, -15, 4, -30}})
	tip, post := vec(30, -20, 150), vec(500, 200, 300)
	for i := range poses {
		poses[i].T = post.Sub(poses[i].R.Apply(tip))
	}
	exact, err := fit.Pivot(poses)
	if err != nil {
		t.Fatal(err)
	}
	const miss = 0.02
	sum := 0.0
	for range trials {
		noisy := make([]geom.Pose, len(poses))
		for i, p := range poses {
			noisy[i] = geom.Pose{R: p.R, T: shaken(r, miss, []geom.Vec{p.T})[0]}
		}
		c, err := fit.Pivot(noisy)
		if err != nil {
			t.Fatal(err)
		}
		sum += math.Pow(c.Tip.Sub(tip).Dot(exact.Weakest), 2)
	}
	near(t, "gain over what was seen", exact.Gain*miss/math.Sqrt(sum/trials), 1, 0.05)
}

// A pose at which the tip had slipped off the spot is named; without need, or with
// two of them, none is.
func TestOneSlippedPoseIsNamed(t *testing.T) {
	poses := posesOf(pointerPoses)
	s, err := fit.LeaveOneOutPose(poses, 0.5)
	if err != nil || s.Best != -1 || len(s.All) != 0 {
		t.Errorf("good poses: got %+v, %v", s, err)
	}
	poses[6].T = poses[6].T.Add(vec(0, 4, 3))
	s, err = fit.LeaveOneOutPose(poses, 0.5)
	if err != nil || s.Best != 6 || len(s.All) != 1 {
		t.Fatalf("pose 7 slipped: got %+v, %v", s, err)
	}
	near(t, "miss", s.All[0].Miss, 5, 0.02)
	poses[2].T = poses[2].T.Add(vec(5, 0, 0))
	if s, err = fit.LeaveOneOutPose(poses, 0.5); err != nil || s.Best != -1 {
		t.Errorf("two poses slipped: got %+v, %v", s, err)
	}
	_, err = fit.LeaveOneOutPose(poses[:3], 0.5)
	refused(t, err, fit.TooFew)
}

// Poses about one axis but for one: without that one nothing can be said.
func TestPoseThatHoldsTheFitIsUntried(t *testing.T) {
	poses := posesOf([][6]float64{{0, 0, 0, 0, 0, 0}, {0, 0, 0, 0, 0, 90}, {0, 0, 0, 0, 0, 180}, {5, 0, 0, 90, 0, 0}})
	s, err := fit.LeaveOneOutPose(poses, 0.001)
	if err != nil || len(s.Untried) != 1 || s.Untried[0] != 3 {
		t.Errorf("got %+v, %v, want pose 4 untried", s, err)
	}
}

func TestRefusalUsesTheCallersNames(t *testing.T) {
	line := []geom.Vec{vec(0, 0, 0), vec(100, 0, 0), vec(0, 0, 0.5)}
	_, err := fit.BestFit(line, line)
	e := refused(t, err, fit.TooClose)
	e.Names = []string{"front left", "front right", ""}
	says(t, e, `nominal point "front left" and nominal point 3 are 0.5 mm apart, wanted 1 mm or more`,
		"touch one of them again, as far from the other as the work area allows")
}
