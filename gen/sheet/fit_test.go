package sheet

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/golden/outside"
)

// fitCase is points where they should be and where they were touched.
type fitCase struct {
	From [][3]float64 `json:"from"`
	To   [][3]float64 `json:"to"`
}

// fitted is an answer: what is left of each point, and the turn.
type fitted struct {
	Off     [][3]float64 `json:"off"`
	RMS     float64      `json:"rms"`
	Degrees float64      `json:"degrees"`
	Why     string       `json:"why"`
}

func vectors(points [][3]float64) []geom.Vec {
	out := make([]geom.Vec, len(points))
	for i, p := range points {
		out[i] = geom.Vec{X: p[0], Y: p[1], Z: p[2]}
	}
	return out
}

// clouds are random points and the same ones laid elsewhere and shaken: flat ones, long ones, many and
// few, and some that were not moved at all.
func clouds(n int) []fitCase {
	r := rand.New(rand.NewPCG(18, 2))
	var all []fitCase
	for i := range n {
		var c fitCase
		pose := geom.Pose{R: geom.RPY{Roll: 360 * r.Float64(), Pitch: 180*r.Float64() - 90, Yaw: 360 * r.Float64()}.Rot(), T: geom.Vec{X: 900 * r.Float64(), Y: -700 * r.Float64(), Z: 80}}
		if i%5 == 0 {
			pose = geom.Identity
		}
		noise, flat := float64(i%4)/3, float64(i%3/2)
		for range 3 + i%9 {
			p := geom.Vec{X: 400 * r.Float64(), Y: 300 * r.Float64(), Z: flat * 90 * r.Float64()}
			q := pose.Apply(p)
			c.From = append(c.From, [3]float64{p.X, p.Y, p.Z})
			c.To = append(c.To, [3]float64{q.X + noise*r.NormFloat64(), q.Y + noise*r.NormFloat64(), q.Z + noise*r.NormFloat64()})
		}
		all = append(all, c)
	}
	return all
}

// byPage asks the page's own script, run by Node.
func byPage(t *testing.T, cases []fitCase) []fitted {
	t.Helper()
	input, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	script := joined("fit") + `process.stdout.write(JSON.stringify(JSON.parse(require("fs").readFileSync(0, "utf8")).map((c) => fit.rigid(c.from, c.to))));`
	var answers []fitted
	if err := json.Unmarshal(outside.Run(t, "nodejs", input, "node", "-e", script), &answers); err != nil || len(answers) != len(cases) {
		t.Fatalf("%d answers to %d cases: %v", len(answers), len(cases), err)
	}
	return answers
}

// kabsch is the same by SciPy's Rotation.align_vectors, which is Kabsch's algorithm.
const kabsch = `
import json, sys
import numpy as np
from scipy.spatial.transform import Rotation

answers = []
for case in json.load(sys.stdin):
    a, b = np.array(case["from"]), np.array(case["to"])
    a, b = a - a.mean(axis=0), b - b.mean(axis=0)
    turn, _ = Rotation.align_vectors(b, a)
    off = b - turn.apply(a)
    answers.append({"off": off.tolist(), "rms": float(np.sqrt((off ** 2).sum(axis=1).mean())), "degrees": float(np.degrees(turn.magnitude()))})
json.dump(answers, sys.stdout)
`

// What the page leaves of every point is what gen/fit and SciPy leave of it.
func TestThePageFitsAsGenFitDoes(t *testing.T) {
	cases := clouds(300)
	answers := byPage(t, cases)
	var scipy []fitted
	outside.Python(t, kabsch, cases, &scipy)
	most, turned := 0.0, 0.0
	for i, got := range answers {
		want, err := fit.BestFit(vectors(cases[i].From), vectors(cases[i].To))
		if (err != nil) != (got.Why != "") {
			t.Fatalf("case %d: %q, wanted %v", i, got.Why, err)
		}
		if err != nil {
			continue
		}
		for k, off := range vectors(got.Off) {
			most = max(most, off.Sub(want.Each[k].Off).Norm(), off.Sub(vectors(scipy[i].Off)[k]).Norm())
		}
		most = max(most, math.Abs(got.RMS-want.RMS), math.Abs(got.RMS-scipy[i].RMS))
		turned = max(turned, math.Abs(got.Degrees-scipy[i].Degrees))
	}
	if !(most < 1e-6) || !(turned < 1e-5) {
		t.Errorf("residuals differ by up to %g mm, wanted 1e-6, and turns by %g°, wanted 1e-5", most, turned)
	}
}

// The page refuses what gen/fit refuses, and says why.
func TestThePageRefusesAsGenFitDoes(t *testing.T) {
	square := [][3]float64{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {0, 0, 50}}
	mirror := [][3]float64{{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {0, 0, -50}}
	line := [][3]float64{{0, 0, 0}, {100, 0, 0}, {200, 0, 0}, {300, 1, 0}}
	twice := [][3]float64{{0, 0, 0}, {100, 0, 0}, {100, 0.5, 0}, {0, 0, 50}}
	cases := []fitCase{{square, square}, {square[:2], square[:2]}, {square, line}, {line, line}, {square, twice}, {square, mirror}}
	for i, got := range byPage(t, cases) {
		_, err := fit.BestFit(vectors(cases[i].From), vectors(cases[i].To))
		if (err != nil) != (got.Why != "") || (i > 0) != (got.Why != "") {
			t.Errorf("case %d: the page says %q, gen/fit %v", i, got.Why, err)
		}
	}
}
