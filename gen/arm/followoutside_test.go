package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
	"gridferry/golden/outside"
)

// pacedLine is a line as the script gets it: mm and radians.
type pacedLine struct {
	Joints []kdlJoint `json:"joints"`
	Tool   kdlPose    `json:"tool"` // the TCP, with all joints at 0
	From   []float64  `json:"from"`
	Way    [3]float64 `json:"way"`
	Turn   [3]float64 `json:"turn"`
}

// paces has the greatest pace of each joint on the line and the readings at its end, in radians; Lost says that the
// script could not follow it, or may have come onto another solution.
type paces struct {
	Most []float64 `json:"most"`
	End  []float64 `json:"end"`
	Lost bool      `json:"lost"`
}

// The script has a chain and a Jacobian of its own. It follows the line by Newton's steps at 80 places, and looks
// for the greatest pace of each joint from the greatest of these on, by SciPy's bounded minimisation.
const pacesScript = `
import json, sys
import numpy as np
from scipy.optimize import minimize_scalar

def cross(k): return np.array([[0, -k[2], k[1]], [k[2], 0, -k[0]], [-k[1], k[0], 0]])
def turn(v):
    angle = np.linalg.norm(v)
    if angle < 1e-15: return np.eye(3)
    k = cross(np.array(v) / angle)
    return np.eye(3) + np.sin(angle) * k + (1 - np.cos(angle)) * k @ k

def state(case, q):
    r, t, axes, points = np.eye(3), np.zeros(3), [], []
    for j, angle in zip(case["joints"], q):
        axis, point = np.array(j["axis"]), np.array(j["point"])
        axes.append(r @ axis); points.append(r @ point + t)
        t = t + r @ (point - turn(axis * angle) @ point); r = r @ turn(axis * angle)
    at = r @ np.array(case["tool"]["t"]) + t
    jacobian = np.array([np.concatenate([np.cross(a, at - p), a]) for a, p in zip(axes, points)]).T
    return at, r @ np.array(case["tool"]["r"]), jacobian

def solve(case, start, share, q):
    at0, r0 = start
    at, r = at0 + share * np.array(case["way"]), turn(share * np.array(case["turn"])) @ r0
    for _ in range(30):
        t, here, jacobian = state(case, q)
        e = r @ here.T
        off = np.concatenate([at - t, 0.5 * np.array([e[2, 1] - e[1, 2], e[0, 2] - e[2, 0], e[1, 0] - e[0, 1]])])
        scaled = off / np.array([500, 500, 500, 1, 1, 1])
        if np.linalg.norm(scaled) < 1e-12: return q, jacobian
        q = q + np.linalg.solve(jacobian, off)
    return None, None

answers = []
for case in json.load(sys.stdin):
    twist = np.concatenate([case["way"], case["turn"]])
    q = np.array(case["from"]); at, r, _ = state(case, q)
    places, found, lost = 80, [], False
    for k in range(places + 1):
        last = q
        q, jacobian = solve(case, (at, r), k / places, q)
        if q is None or np.max(np.abs(q - last)) > 0.5: lost = True; break  # it may have come onto another solution
        found.append((q, np.abs(np.linalg.solve(jacobian, twist))))
    if lost: answers.append({"most": [], "end": [], "lost": True}); continue
    most = []
    for i in range(len(q)):
        k = max(range(places + 1), key=lambda k: found[k][1][i])
        def pace(share):
            q, jacobian = solve(case, (at, r), share, found[k][0])
            return 0 if q is None else -abs(np.linalg.solve(jacobian, twist)[i])
        lo, hi = max(0, k - 1) / places, min(places, k + 1) / places
        best = minimize_scalar(pace, bounds=(lo, hi), method="bounded", options={"xatol": 1e-7})
        most.append(max(found[k][1][i], -best.fun))
    answers.append({"most": most, "end": found[-1][0].tolist(), "lost": False})
json.dump(answers, sys.stdout)
`

// TestPacesAgreeWithSciPy: on no line does SciPy find a joint going faster than is said, or much slower than that, and the arm comes to
// the same readings (500 lines were held to that; GRIDFERRY_ARMS says how many). Said is the greatest bound of stretches that are no longer than it takes to know it to a fiftieth.
func TestPacesAgreeWithSciPy(t *testing.T) {
	t.Parallel()
	const known, degree = 0.02, math.Pi / 180
	lines := arms(t, 40)
	a := upright(t)
	tcp := geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 10, Z: 90}}
	f := a.Follower(tcp)
	vec := func(v geom.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	var cases []pacedLine
	var said, ends []Readings
	for seed := uint64(0); len(cases) < lines; seed++ {
		d := roll(seed)
		from := d.readings(a)
		l := d.line(a.Pose(from).Mul(tcp))
		var most Readings
		end, came := f.Follow(&l, from, from, func(s *Stretch) bool {
			enough := true
			for i := range a.Joints {
				enough = enough && (s.Off[i] <= known*s.Most(i)/2+0.2 || s.Most(i) <= most[i])
			}
			if enough || s.Least {
				for i := range a.Joints {
					most[i] = max(most[i], s.Most(i))
				}
			}
			return enough
		})
		if came < 1 {
			continue // it passes a singular place
		}
		c := pacedLine{Way: vec(l.Way), Turn: vec(l.Turn.Scale(degree))}
		tool := f.arm.Flange
		c.Tool = kdlPose{R: tool.R, T: vec(tool.T)}
		for i, j := range a.Joints {
			c.Joints = append(c.Joints, kdlJoint{Axis: vec(j.Axis), Point: vec(j.Point)})
			c.From = append(c.From, from[i]*degree)
		}
		cases, said, ends = append(cases, c), append(said, most), append(ends, end)
	}
	var answers []paces
	outside.Python(t, pacesScript, cases, &answers)
	lost := 0
	for i, one := range answers {
		if one.Lost {
			lost++
			continue
		}
		for k := range a.Joints {
			found, bound := one.Most[k]/degree, said[i][k]
			if found > bound*(1+1e-9)+1e-6 {
				t.Errorf("line %d: SciPy finds joint %d at %.6f, said to be %.6f at the most", i, k+1, found, bound)
			}
			if found < bound*(1-known)-0.5 {
				t.Errorf("line %d: joint %d is said to be at %.6f, SciPy finds %.6f at the most", i, k+1, bound, found)
			}
			if off := math.Abs(one.End[k]/degree - ends[i][k]); off > 1e-6 {
				t.Errorf("line %d: joint %d ends %g° from where it is said to", i, k+1, off)
			}
		}
	}
	if len(answers) != lines || lost > lines/20 {
		t.Errorf("%d answers, %d lines lost by the script", len(answers), lost)
	}
}
