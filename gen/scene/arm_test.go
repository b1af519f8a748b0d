package scene_test

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/geom"
	"gridferry/gen/scene"
	"gridferry/golden/outside"
	"gridferry/plan"
)

// poseIn is a pose of a scene.
func poseIn(p scene.Pose) geom.Pose {
	r, ok := geom.Quaternion(p[3], p[4], p[5], p[6])
	if !ok {
		panic("no rotation")
	}
	return geom.Pose{R: r, T: geom.Vec{X: p[0], Y: p[1], Z: p[2]}}
}

// behind is what has become of all that is behind so many joints of a scene's arm, by the product of exponentials
// (Lynch & Park, Modern Robotics, ch. 4; from memory), written anew here from the figures that a viewer has.
func behind(a *scene.Arm, readings []float64, joints int) geom.Pose {
	p := geom.Identity
	for i, j := range a.Joints[:joints] {
		axis, through := point(scene.Vec(j.Axis)), point(j.Point)
		if j.Slides {
			p = p.Mul(geom.Pose{R: geom.IdentityRot(), T: axis.Scale(readings[i])})
			continue
		}
		r := rodrigues(axis, readings[i]*math.Pi/180)
		p = p.Mul(geom.Pose{R: r, T: through.Sub(r.Apply(through))})
	}
	return p
}

// rodrigues turns about an axis, by radians.
func rodrigues(k geom.Vec, angle float64) geom.Rot {
	s, c := math.Sincos(angle)
	t := 1 - c
	return geom.Rot{
		{c + k.X*k.X*t, k.X*k.Y*t - k.Z*s, k.X*k.Z*t + k.Y*s},
		{k.Y*k.X*t + k.Z*s, c + k.Y*k.Y*t, k.Y*k.Z*t - k.X*s},
		{k.Z*k.X*t - k.Y*s, k.Z*k.Y*t + k.X*s, c + k.Z*k.Z*t},
	}
}

// armed are the scenes that have an arm: of demos, of the textbook's, of one on a rail and of a gantry.
func armed(t *testing.T) map[string]*scene.Scene {
	all := map[string]*scene.Scene{}
	for name, j := range arms(t) {
		all[name] = shown(t, j, large)
	}
	if len(all) < 6 {
		t.Errorf("%d scenes with an arm: is the test right?", len(all))
	}
	return all
}

// arms is the jobs of cells that say what the arm is.
func arms(t *testing.T) map[string]*gen.Job {
	jobs := demos(t)
	of := func(name, arm, readings string) {
		from, to := strings.Index(corke, "    dh:"), strings.Index(corke, "  tools:")
		text := corke[:from] + arm + corke[to:]
		from, to = strings.Index(text, "    a: {joints"), strings.Index(text, "  keep_out")
		text = strings.Replace(text[:from]+readings+text[to:], "{go: c}, {go: d}", "{go: b}", 1)
		jobs[name] = read(t, plan.Source{File: name, Data: []byte(text), Dir: "."})
	}
	jobs["corke"] = read(t, plan.Source{File: "corke", Data: []byte(corke), Dir: "."})
	of("rail", `    joints:
      - {slides: [0, 1, 0], range: [-500, 1500]}
      - {axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]}
      - {axis: [0, 1, 0], point: [40, 500, 300], range: [-100, 120]}
      - {axis: [0, 1, 0], point: [40, 0, 570], range: [-120, 120]}
      - {axis: [1, 0, 0], point: [-900, 0, 600], range: [-180, 180]}
      - {axis: [0, 1, 0], point: [310, 0, 600], range: [-120, 120]}
      - {axis: [1, 0, 0], point: [0, 0, 600], range: [-360, 360]}
    flange: {at: [390, 0, 600], rpy: [0, 90, 0]}
`, "    a: {joints: [700, 20, -30, 40, 15, 60, -25]}\n    b: {joints: [-200, -45, 25, -10, -40, 50, 80]}\n")
	of("gantry", `    at: [-100, -200, 0]
    rpy: [0, 0, 90]
    joints:
      - {slides: [1, 0, 0], range: [-500, 500]}
      - {slides: [0, 1, 0], range: [-700, 700]}
      - {slides: [0, 0, -1], range: [0, 1000]}
      - {axis: [0, 0, 1], point: [0, 0, 0], range: [-180, 180]}
    flange: {at: [0, 0, 1000], rpy: [180, 0, 0]}
`, "    a: {joints: [300, 20, 700, 40]}\n    b: {joints: [-200, -45, 250, -10]}\n")
	maps.DeleteFunc(jobs, func(_ string, j *gen.Job) bool { return j.Layout.Arm == nil })
	return jobs
}

// TestArmHoldsTheTool: by the figures of the scene alone, the flange of the arm is where the tool needs it, at every motion.
func TestArmHoldsTheTool(t *testing.T) {
	for name, s := range armed(t) {
		n, m, looked := len(s.Arm.Joints), &s.Moves, 0
		if len(m.Joints) != n*m.N {
			t.Fatalf("%s: %d readings of %d joints at %d moves", name, len(m.Joints), n, m.N)
		}
		for i := range m.N {
			if !isMotion(m, i) || slices.Contains(m.Unreached, int32(i)) {
				continue
			}
			looked++
			tcp := behind(s.Arm, m.Joints[n*i:n*(i+1)], n).Mul(poseIn(s.Arm.Flange)).Mul(poseIn(s.Tools[m.Tool[i]].TCP))
			q := m.Turns[m.Turn[i]]
			want, _ := geom.Quaternion(q[0], q[1], q[2], q[3])
			// A joint's reading is off by half of 1e-4 degrees, its axis by half of 1e-6, an arm is some 2 m long.
			if off, turned := tcp.T.Dist(vec(m.At, i)), tcp.R.T().Mul(want).Angle(); off > 0.02 || turned > 0.001 {
				t.Fatalf("%s: after move %d (%s) the TCP is %g mm and %g° off where the joints take it", name, i+1, m.Words[i], off, turned)
			}
		}
		if looked < 4 || len(m.Unreached) > 0 != (name == "corke") {
			t.Errorf("%s: %d motions were looked at, %d are out of the arm's reach", name, looked, len(m.Unreached))
		}
	}
}

func isMotion(m *scene.Moves, i int) bool {
	kind := m.Kinds[m.Kind[i]]
	return kind == "travel" || kind == "straight"
}

// corke is a plan that goes to poses by joints with P. Corke's textbook arm (Robotics, Vision and Control, ch. 7; the table
// of plan/FORMAT.md, in mm), whose links fill something.
const corke = `format: gridferry plan 1
cell:
  machine: {rated_load: 3, speed: 1000}
  arm:
    dh:
      convention: standard
      rows:
        - {alpha: 90, range: [-160, 160]}
        - {a: 431.8, range: [-110, 110]}
        - {a: 20.3, d: 150.05, alpha: -90, range: [-135, 135]}
        - {d: 431.8, alpha: 90, range: [-266, 266]}
        - {alpha: -90, range: [-100, 100]}
        - {range: [-266, 266]}
    links:
      J1: [{capsule: {from: [0, 0, -300], to: [0, 0, 0], radius: 80}}]
      J2: [{capsule: {from: [0, 0, 0], to: [431.8, 0, 0], radius: 60}}, {box: {from: [400, -20, -30], to: [450, 40, 30]}}]
      J3: [{sphere: {at: [452.1, -150.05, 0], radius: 70}}]
      J5: [{capsule: {from: [452.1, -150.05, 431.8], to: [452.1, -150.05, 460], radius: 20}}]
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.8, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {}
  poses:
    a: {joints: [20, -30, 40, 15, 60, -25]}
    b: {joints: [-45, 25, -10, -40, 50, 80]}
    c: {joints: [151.75, -105, 5.39, 145.11, 55.82, 21.39]}
    d: {joints: [0, 0, 0, 0, 0, 0]}
  keep_out: {}
parts: {tube: {mass: 0.02, size: [12, 12, 75]}}
grids:
  a: {frame: base, rows: 1, columns: 1, first: [300, 100, 20], part: tube, filled: all}
  b: {frame: base, rows: 1, columns: 1, first: [300, -100, 20], part: tube}
motion: {tool: jaw, approach: 100, speed: {travel: 500, near: 80}}
begin: [{go: a}, {go: b}, {go: c}, {go: d}]
transfers:
  - {from: a, to: b}
`

// A segment by a row of the table is how KDL itself makes such arms; the frame behind each joint is that of its link.
const kdlLinks = `
import json, sys
import PyKDL as kdl

rows, readings = json.load(sys.stdin)
chain = kdl.Chain()
for a, alpha, d, theta in rows:
    chain.addSegment(kdl.Segment(kdl.Joint(kdl.Joint.RotZ), kdl.Frame.DH(a, alpha, d, theta)))
answers = []
for values in readings:
    q = kdl.JntArray(len(rows))
    for i, v in enumerate(values): q[i] = v
    links = []
    for i in range(len(rows)):
        f = kdl.Frame()
        assert kdl.ChainFkSolverPos_recursive(chain).JntToCart(q, f, i + 1) >= 0
        links.append({"r": [[f.M[j, k] for k in range(3)] for j in range(3)], "t": list(f.p)})
    answers.append(links)
json.dump(answers, sys.stdout)
`

type kdlPose struct {
	R geom.Rot   `json:"r"`
	T [3]float64 `json:"t"`
}

func (p kdlPose) pose() geom.Pose {
	return geom.Pose{R: p.R, T: geom.Vec{X: p.T[0], Y: p.T[1], Z: p.T[2]}}
}

// TestLinksByKDL: the links of the textbook's arm are where Orocos KDL 1.5 (Debian) takes them, which gets the table and
// not our axes.
func TestLinksByKDL(t *testing.T) {
	s := shown(t, read(t, plan.Source{File: "corke.plan.yaml", Data: []byte(corke), Dir: "."}), large)
	const right = math.Pi / 2
	rows := [][4]float64{{0, right, 0, 0}, {431.8, 0, 0, 0}, {20.3, -right, 150.05, 0}, {0, right, 431.8, 0}, {0, -right, 0, 0}, {0, 0, 0, 0}}
	at := [][]float64{{0, 0, 0, 0, 0, 0}}
	for i := range s.Moves.N {
		if !isMotion(&s.Moves, i) || len(at) == 5 {
			continue
		}
		var radians []float64
		for _, q := range s.Moves.Joints[6*i : 6*i+6] {
			radians = append(radians, q*math.Pi/180)
		}
		at = append(at, radians)
	}
	if at[1][0] != 20*math.Pi/180 || at[3][3] != 145.11*math.Pi/180 {
		t.Fatalf("the arm goes to %v", at)
	}
	var answers [][]kdlPose
	outside.KDL(t, kdlLinks, []any{rows, at}, &answers)
	looked := 0
	for k, links := range answers {
		var degrees []float64
		for _, q := range at[k] {
			degrees = append(degrees, q*180/math.Pi)
		}
		for _, l := range s.Arm.Links {
			if l.Behind == 0 {
				t.Fatal("a link that stands still")
			}
			kdl := links[l.Behind-1].pose().Mul(answers[0][l.Behind-1].pose().Inverse())
			ours := behind(s.Arm, degrees, l.Behind)
			for _, p := range pointsOf(t, s, l.Solid) {
				looked++
				if off := kdl.Apply(p).Dist(ours.Apply(p)); off > 0.01 {
					t.Errorf("at %v a point of the link behind joint %d is %g mm off", degrees, l.Behind, off)
				}
			}
		}
	}
	if looked != 5*8 {
		t.Errorf("%d points were looked at", looked)
	}
}

// pointsOf are some of a solid.
func pointsOf(t *testing.T, s *scene.Scene, n int) []geom.Vec {
	switch one := s.Solids[n]; {
	case one.Capsule != nil:
		return []geom.Vec{point(one.Capsule.From), point(one.Capsule.To)}
	case one.Sphere != nil:
		return []geom.Vec{point(one.Sphere.At)}
	case one.Box != nil && one.Box.Turn == nil:
		return []geom.Vec{point(one.Box.From)}
	}
	t.Fatalf("a link is %+v", s.Solids[n])
	return nil
}

// TestRods: an arm without links has a line from where it stands to the flange, in which no joint is left out; what slides
// begins somewhere on its rail. What is told of a link takes its rod's place.
func TestRods(t *testing.T) {
	for name, j := range arms(t) {
		if name == "corke" {
			continue
		}
		clear(j.Layout.Arm.Shapes)
		s := shown(t, j, large)
		at := scene.Rod{From: s.Arm.At, To: s.Arm.At}
		for _, r := range s.Arm.Rods {
			if !along(at, r.From) && !along(at, r.To) {
				t.Errorf("%s: the rod behind joint %d is %v to %v, the one before ends at %v", name, r.Behind, r.From, r.To, at)
			}
			if at = r; r.Behind == len(s.Arm.Joints) || !s.Arm.Joints[r.Behind].Slides {
				at.From = r.To // all but rails end in one point
			}
		}
		if flange := (scene.Vec{s.Arm.Flange[0], s.Arm.Flange[1], s.Arm.Flange[2]}); !along(at, flange) || len(s.Arm.Links) > 0 {
			t.Errorf("%s: rods lead to %v, the flange is at %v, and there are %d links", name, at, flange, len(s.Arm.Links))
		}
	}
	told := armed(t)["corke"].Arm
	for _, r := range told.Rods {
		if slices.ContainsFunc(told.Links, func(l scene.Link) bool { return l.Behind == r.Behind }) {
			t.Errorf("the link behind joint %d has a shape and a rod", r.Behind)
		}
	}
}

// along reports whether a point is on a rod.
func along(r scene.Rod, p scene.Vec) bool {
	return point(r.From).Dist(point(p))+point(p).Dist(point(r.To)) < point(r.From).Dist(point(r.To))+0.001
}

func point(v scene.Vec) geom.Vec { return geom.Vec{X: v[0], Y: v[1], Z: v[2]} }
