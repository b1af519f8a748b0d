package fit_test

import (
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/golden/outside"
)

// fitted is one problem and one answer, as they go between two programs.
type fitted struct {
	Nominal  [][3]float64 `json:"nominal"`
	Measured [][3]float64 `json:"measured"`
	R        geom.Rot     `json:"r"`
	T        [3]float64   `json:"t"`
	RMS      float64      `json:"rms"`
}

// A best fit by SciPy's Rotation.align_vectors (its Kabsch), which turns only: the
// middles of the points are taken out by hand.
const scipyFit = `
import json, sys
import numpy as np
from scipy.spatial.transform import Rotation

answers = []
for case in json.load(sys.stdin):
    a, b = np.array(case["nominal"]), np.array(case["measured"])
    ma, mb = a.mean(axis=0), b.mean(axis=0)
    turn, _ = Rotation.align_vectors(b - mb, a - ma)
    r = turn.as_matrix()
    t = mb - r @ ma
    left = b - (a @ r.T + t)
    answers.append({"r": r.tolist(), "t": t.tolist(), "rms": float(np.sqrt((left ** 2).sum(axis=1).mean()))})
json.dump(answers, sys.stdout)
`

// scipyPivot is the tool centre by numpy's least squares on the whole system,
// [R, -1]·[tip; post] = -t, with the post not eliminated.
const scipyPivot = `
import json, sys
import numpy as np

answers = []
for case in json.load(sys.stdin):
    rows = np.vstack([np.hstack([np.array(p["r"]), -np.eye(3)]) for p in case])
    right = np.concatenate([-np.array(p["t"]) for p in case])
    x, *_ = np.linalg.lstsq(rows, right, rcond=None)
    answers.append({"tip": x[:3].tolist(), "post": x[3:].tolist()})
json.dump(answers, sys.stdout)
`

func triples(points []geom.Vec) [][3]float64 {
	to := make([][3]float64, len(points))
	for i, p := range points {
		to[i] = [3]float64{p.X, p.Y, p.Z}
	}
	return to
}

func of(v [3]float64) geom.Vec { return geom.Vec{X: v[0], Y: v[1], Z: v[2]} }

// Random rigid fits, from three points up, exact and noisy, against SciPy.
func TestBestFitAgreesWithSciPy(t *testing.T) {
	r := random(70)
	var cases []fitted
	var sets [][2][]geom.Vec
	for i := range 200 {
		nominal := cloud(r, 3+i%10)
		measured := shaken(r, float64(i%4)/2, moved(randomPose(r), nominal))
		sets = append(sets, [2][]geom.Vec{nominal, measured})
		cases = append(cases, fitted{Nominal: triples(nominal), Measured: triples(measured)})
	}
	var answers []fitted
	outside.Python(t, scipyFit, cases, &answers)
	if len(answers) != len(cases) {
		t.Fatalf("python answered %d of %d", len(answers), len(cases))
	}
	for i, want := range answers {
		f := bestFit(t, sets[i][0], sets[i][1])
		nearRot(t, "turn", f.Pose.R, want.R, 1e-9)
		nearVec(t, "place", f.Pose.T, of(want.T), 1e-9)
		near(t, "rms", f.RMS, want.RMS, 1e-9)
	}
}

func TestPivotAgreesWithNumPy(t *testing.T) {
	type pose struct {
		R geom.Rot   `json:"r"`
		T [3]float64 `json:"t"`
	}
	r := random(71)
	var cases [][]pose
	var sets [][]geom.Pose
	for i := range 100 {
		tip, post := randomVec(r), randomVec(r)
		var set []geom.Pose
		var written []pose
		for range 4 + i%6 {
			p := randomPose(r)
			p.T = shaken(r, float64(i%3)/2, []geom.Vec{post.Sub(p.R.Apply(tip))})[0]
			set = append(set, p)
			written = append(written, pose{p.R, triples([]geom.Vec{p.T})[0]})
		}
		cases, sets = append(cases, written), append(sets, set)
	}
	var answers []struct{ Tip, Post [3]float64 }
	outside.Python(t, scipyPivot, cases, &answers)
	if len(answers) != len(cases) {
		t.Fatalf("python answered %d of %d", len(answers), len(cases))
	}
	for i, want := range answers {
		c, err := fit.Pivot(sets[i])
		if err != nil {
			t.Fatal(err)
		}
		nearVec(t, "tip", c.Tip, of(want.Tip), 1e-9)
		nearVec(t, "post", c.Post, of(want.Post), 1e-9)
	}
}

// scipyLess fits the others without each of the points in turn, anew.
const scipyLess = `
import json, sys
import numpy as np
from scipy.spatial.transform import Rotation

answers = []
for case in json.load(sys.stdin):
    a, b = np.array(case["nominal"]), np.array(case["measured"])
    each = []
    for i in range(len(a)):
        p, q = np.delete(a, i, axis=0), np.delete(b, i, axis=0)
        mp, mq = p.mean(axis=0), q.mean(axis=0)
        turn, _ = Rotation.align_vectors(q - mq, p - mp)
        left = np.linalg.norm(turn.apply(p - mp) - (q - mq), axis=1)
        miss = np.linalg.norm(turn.apply(a[i] - mp) + mq - b[i])
        each.append({"largest": left.max(), "rms": float(np.sqrt((left ** 2).mean())), "miss": miss})
    answers.append(each)
json.dump(answers, sys.stdout)
`

// The fits without one point against SciPy's, who fits the others from the beginning.
func TestLeaveOneOutAgreesWithSciPy(t *testing.T) {
	r := random(72)
	var cases []fitted
	for i := range 60 {
		nominal := cloud(r, 5+i%12)
		measured := shaken(r, 0.3, moved(randomPose(r), nominal))
		measured[i%5].X += 9
		cases = append(cases, fitted{Nominal: triples(nominal), Measured: triples(measured)})
	}
	var answers [][]fit.Omission
	outside.Python(t, scipyLess, cases, &answers)
	for i, c := range cases {
		nominal, measured := vectors(c.Nominal), vectors(c.Measured)
		all := bestFit(t, nominal, measured)
		s, err := fit.LeaveOneOut(nominal, measured, all.Largest*0.99)
		if err != nil || len(s.All) == 0 {
			t.Fatal(s, err)
		}
		for _, got := range s.All {
			want := answers[i][got.Index]
			near(t, "largest", got.Largest, want.Largest, 1e-9)
			near(t, "rms", got.RMS, want.RMS, 1e-9)
			near(t, "miss", got.Miss, want.Miss, 1e-9)
		}
	}
}

func vectors(points [][3]float64) []geom.Vec {
	var all []geom.Vec
	for _, p := range points {
		all = append(all, of(p))
	}
	return all
}
