package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
	"gridferry/golden/outside"
)

// kdlArm is an arm as KDL gets it, in m and radians, with readings, and for the search those it begins from.
type kdlArm struct {
	Joints []kdlJoint `json:"joints"`
	Flange kdlPose    `json:"flange"`
	At     []float64  `json:"at"`
	From   []float64  `json:"from"`
}

type kdlJoint struct {
	Slides bool       `json:"slides"`
	Axis   [3]float64 `json:"axis"`
	Point  [3]float64 `json:"point"`
}

type kdlPose struct {
	R [3][3]float64 `json:"r"`
	T [3]float64    `json:"t"`
}

// kdlAnswer is the pose and the Jacobian at the readings, and readings that its search says give that pose, if it found some.
type kdlAnswer struct {
	Pose     kdlPose      `json:"pose"`
	Jacobian [6][]float64 `json:"jacobian"`
	Found    []float64    `json:"found"`
}

// A segment of KDL that does not reach anywhere moves what is behind it by its joint, about an axis in coordinates of the chain's
// base: the product of exponentials.
const kdlScript = `
import json, sys
import PyKDL as kdl

def vector(v): return kdl.Vector(*v)
def frame(p): return kdl.Frame(kdl.Rotation(*[x for row in p["r"] for x in row]), vector(p["t"]))
def array(values):
    a = kdl.JntArray(len(values))
    for i, v in enumerate(values): a[i] = v
    return a

answers = []
for case in json.load(sys.stdin):
    chain = kdl.Chain()
    last = len(case["joints"]) - 1
    for i, j in enumerate(case["joints"]):
        kind = kdl.Joint.TransAxis if j["slides"] else kdl.Joint.RotAxis
        joint = kdl.Joint("j%d" % i, vector(j["point"]), vector(j["axis"]), kind)
        chain.addSegment(kdl.Segment(joint, frame(case["flange"]) if i == last else kdl.Frame()))
    at = array(case["at"])
    pose, jacobian = kdl.Frame(), kdl.Jacobian(last + 1)
    assert kdl.ChainFkSolverPos_recursive(chain).JntToCart(at, pose) >= 0
    assert kdl.ChainJntToJacSolver(chain).JntToJac(at, jacobian) >= 0
    found = None
    if case["from"]:
        got = kdl.JntArray(last + 1)
        if kdl.ChainIkSolverPos_LMA(chain, 1e-12, 500, 1e-15).CartToJnt(array(case["from"]), pose, got) >= 0:
            found = [got[i] for i in range(last + 1)]
    answers.append({
        "pose": {"r": [[pose.M[i, k] for k in range(3)] for i in range(3)], "t": list(pose.p)},
        "jacobian": [[jacobian[i, k] for k in range(last + 1)] for i in range(6)],
        "found": found,
    })
json.dump(answers, sys.stdout)
`

func metres(v geom.Vec) [3]float64 { return [3]float64{v.X / 1000, v.Y / 1000, v.Z / 1000} }

// radians gives readings in m and radians.
func (a *Arm) radians(r Readings) (q []float64) {
	for i := range a.Joints {
		unit := math.Pi / 180
		if a.Joints[i].Slides {
			unit = 0.001
		}
		q = append(q, r[i]*unit)
	}
	return q
}

func forKDL(a *Arm, at Readings) kdlArm {
	c := kdlArm{Flange: kdlPose{a.Flange.R, metres(a.Flange.T)}, At: a.radians(at)}
	for _, j := range a.Joints {
		c.Joints = append(c.Joints, kdlJoint{j.Slides, [3]float64{j.Axis.X, j.Axis.Y, j.Axis.Z}, metres(j.Point)})
	}
	return c
}

// TestKDL holds poses and Jacobians of 1,000 random arms to those of Orocos KDL 1.5 (Debian), to 1e-9; and what its search by
// Levenberg and Marquardt finds has to be among all solutions.
func TestKDL(t *testing.T) {
	d := roll(7)
	var arms []*Arm
	var at []Readings
	var question []kdlArm
	for i := range 1000 {
		var a *Arm
		switch i % 4 {
		case 0, 1:
			links := make([]link, 1+d.IntN(MaxJoints))
			for i := range links {
				links[i] = d.any()
			}
			joints, flange := d.chain(links...)
			for i := range joints {
				joints[i].Slides = d.IntN(4) == 0
			}
			a = &Arm{Joints: joints, Flange: flange}
		case 2:
			a = d.spherical(t)
		case 3:
			a = d.parallels(t)
		}
		q := d.readings(a)
		c := forKDL(a, q)
		if a.solver != nil {
			c.From = a.radians(d.readings(a))
		}
		arms, at, question = append(arms, a), append(at, q), append(question, c)
	}
	var answers []kdlAnswer
	outside.KDL(t, kdlScript, question, &answers)
	if len(answers) != len(question) {
		t.Fatalf("KDL gave %d answers, wanted %d", len(answers), len(question))
	}
	searched := 0
	for i, got := range answers {
		a := arms[i]
		agrees(t, a, at[i], got)
		if got.Found != nil {
			searched++
			among(t, a, at[i], got.Found)
		}
	}
	if t.Logf("KDL's search came to an answer in %d of 500 cases", searched); searched < 200 {
		t.Errorf("KDL's search found %d answers only: is it asked rightly?", searched)
	}
}

func agrees(t *testing.T, a *Arm, q Readings, got kdlAnswer) {
	t.Helper()
	const within = 1e-9 // m, radians
	pose, columns := a.Pose(q), a.Jacobian(q)
	want := metres(pose.T)
	for i := range 3 {
		if math.Abs(got.Pose.T[i]-want[i]) > within {
			t.Errorf("%+v at %v: KDL is at %v, wanted %v", a, q, got.Pose.T, want)
		}
		for k := range 3 {
			if math.Abs(got.Pose.R[i][k]-pose.R[i][k]) > within {
				t.Errorf("%+v at %v: KDL is turned %v, wanted %v", a, q, got.Pose.R, pose.R)
			}
		}
	}
	for k := range a.Joints {
		linear, turn := columns[k].Linear, columns[k].Turn
		if !a.Joints[k].Slides {
			linear = linear.Scale(0.001)
		}
		for i, v := range []float64{linear.X, linear.Y, linear.Z, turn.X, turn.Y, turn.Z} {
			if math.Abs(got.Jacobian[i][k]-v) > within {
				t.Errorf("%+v at %v: KDL's Jacobian has %g in row %d of joint %d, wanted %g", a, q, got.Jacobian[i][k], i+1, k+1, v)
			}
		}
	}
}

// among demands that readings which KDL found are among the solutions: as near to one as they are near to the pose, to
// which its search comes within a millionth.
func among(t *testing.T, a *Arm, q Readings, found []float64) {
	t.Helper()
	var r Readings
	for i := range found {
		r[i] = found[i] * 180 / math.Pi
	}
	flange := a.Pose(q)
	var e equations
	a.equate(&r, flange, &e)
	_, least := e.eliminate()
	best := math.Inf(1)
	for _, s := range a.Solve(flange, r, nil) {
		best = min(best, size(a.way(s.Readings, r)))
	}
	if e.off > 1e-6 || best > 100*e.off/least+1e-7 {
		t.Errorf("%+v\n%v: KDL found %v (off by %g), which is %g away from the nearest solution", a, q, r, e.off, best)
	}
}
