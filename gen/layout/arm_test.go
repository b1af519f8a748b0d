package layout

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/golden/outside"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// laidOut reads a plan around an arm's keys, with files beside it, and gives what was found.
func laidOut(t *testing.T, armKeys string, files map[string]string) (*Layout, []diag.Finding) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	text := `format: gridferry plan 1
cell:
  tools:
    jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}
    cup: {tcp: {at: [10, 0, 60], rpy: [0, 30, 0]}, mass: 1, grip: {output: 2, level: on}, release: {output: 2, level: off}}
` + armKeys + `
parts: {p: {mass: 0.1}}
grids: {a: {frame: base, rows: 1, columns: 2, pitch: [50, 50], first: [200, 0, 20], part: p, filled: A1}}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers: [{from: a A1, to: a A2}]
`
	var list diag.List
	p := plan.Read(plan.Source{File: "p.plan.yaml", Data: []byte(text), Dir: dir}, nil, &list, new(diag.Sources))
	return Resolve(p, Options{}, &list), list.Sorted()
}

// described is the arm that keys describe, solved or not.
func described(t *testing.T, armKeys string) *Arm {
	t.Helper()
	var list diag.List
	p := plan.Read(plan.Source{File: "p.plan.yaml", Data: []byte("cell:\n" + armKeys), Dir: "."}, nil, &list, new(diag.Sources))
	a := newResolver(p, Options{}, &list).described()
	if a == nil {
		t.Fatalf("found %+v", list.Sorted())
	}
	return a
}

// good is laidOut without a finding.
func good(t *testing.T, armKeys string, files map[string]string) *Layout {
	t.Helper()
	l, found := laidOut(t, armKeys, files)
	for _, f := range found {
		t.Errorf("%s: %s (%s)", f.Place, f.Message, f.Hint)
	}
	if l.Arm == nil {
		t.Fatal("there is no arm")
	}
	return l
}

func nearPose(t *testing.T, what string, got, want geom.Pose, within float64) {
	t.Helper()
	if way, turn := arm.Off(got, want); way > within || turn > within {
		t.Errorf("%s: %.9g mm and %.9g° off: got %v, wanted %v", what, way, turn, got, want)
	}
}

// bookArm is the standard six-axis example of P. Corke, Robotics, Vision and Control, chapter 7, by its
// Denavit-Hartenberg table and with the poses that the book prints (from memory; see check-values 8.1).
const bookArm = `  arm:
    dh:
      convention: standard
      rows:
        - {alpha: 90, range: [-360, 360]}
        - {a: 431.8, range: [-360, 360]}
        - {a: 20.3, d: 150.05, alpha: -90, range: [-360, 360]}
        - {d: 431.8, alpha: 90, range: [-360, 360]}
        - {alpha: -90, range: [-360, 360]}
        - {range: [-360, 360]}
`

func TestBookArm(t *testing.T) {
	l := good(t, bookArm, nil)
	const rad = 180 / math.Pi
	upright := geom.Rot{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}}
	for _, c := range []struct {
		joints [6]float64
		want   geom.Pose
		within float64
	}{
		{[6]float64{}, geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 452.1, Y: -150.05, Z: 431.8}}, 1e-9},
		{[6]float64{0, 90, -90}, geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 20.3, Y: -150.05, Z: 863.6}}, 1e-9},
		{[6]float64{0, 0, -90}, geom.Pose{R: upright, T: geom.Vec{X: 863.6, Y: -150.05, Z: -20.3}}, 1e-9},
		{[6]float64{0, 45, 180, 0, 45}, geom.Pose{R: upright, T: geom.Vec{X: 596.303, Y: -150.05, Z: -14.354}}, 1e-3},
		{[6]float64{2.6486 * rad, -3.9270 * rad, 0.0940 * rad, 2.5326 * rad, 0.9743 * rad, 0.3734 * rad}, geom.Pose{R: upright, T: geom.Vec{X: 596.303, Y: -150.05, Z: -14.354}}, 0.1},
	} {
		var r arm.Readings
		copy(r[:], c.joints[:])
		nearPose(t, fmt.Sprint(c.joints), l.Arm.Pose(r), c.want, c.within)
	}
}

// Craig, Introduction to Robotics, 3rd ed., figure 3.21: the modified table with lengths as letters
// (from memory). With all joints at 0 its last frame is [[1,0,0],[0,-1,0],[0,0,-1]] at (a2+a3, d3, -d4).
func TestModifiedTable(t *testing.T) {
	l := good(t, `  arm:
    dh:
      convention: modified
      rows:
        - {range: [-360, 360]}
        - {alpha: -90, range: [-360, 360]}
        - {a: 400, d: 120, range: [-360, 360]}
        - {a: 30, alpha: -90, d: 410, range: [-360, 360]}
        - {alpha: 90, range: [-360, 360]}
        - {alpha: -90, range: [-360, 360]}
`, nil)
	want := geom.Pose{R: geom.Rot{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, T: geom.Vec{X: 430, Y: 120, Z: -410}}
	nearPose(t, "all at 0", l.Arm.Pose(arm.Readings{}), want, 1e-9)
}

// The book's other example, planar with three joints of 4, 3 and 2 (Craig, MATLAB exercise 3A).
func TestPlanarTable(t *testing.T) {
	a := described(t, `  arm:
    dh: {convention: standard, rows: [{a: 4, range: [-360, 360]}, {a: 3, range: [-360, 360]}, {a: 2, range: [-360, 360]}]}
`)
	nearPose(t, "10, 20, 30", a.Pose(arm.Readings{10, 20, 30}), geom.Pose{R: geom.RotZ(60), T: geom.Vec{X: 7.5373072, Y: 3.9266435}}, 1e-7)
	nearPose(t, "90, 90, 90", a.Pose(arm.Readings{90, 90, 90}), geom.Pose{R: geom.RotZ(270), T: geom.Vec{X: -3, Y: 2}}, 1e-9)
}

// A pose by joints is where the flange goes: each tool's TCP is its own way from there.
func TestPoseByJoints(t *testing.T) {
	l := good(t, bookArm+"  poses: {clear: {joints: [10, 45, 180, -20, 45, 0.5 rad]}}\n", nil)
	pose := l.Poses[0]
	flange := l.Arm.Pose(arm.Readings{10, 45, 180, -20, 45, 90 / math.Pi})
	for _, tool := range l.Tools {
		at := pose.Base(tool)
		nearPose(t, tool.Name, geom.At(at.Vec, at.RPY).Mul(tool.TCP.Inverse()), flange, 1e-9)
		if *pose.In(tool) != *at {
			t.Errorf("%s: %v in the frame, %v in the base", tool.Name, *pose.In(tool), *at)
		}
	}
	if pose.Joints == nil || pose.Joints[3] != -20 {
		t.Errorf("its joints are %v", pose.Joints)
	}
}

// axesKeys writes an arm as axes.
func axesKeys(joints []arm.Joint, flange geom.Pose) string {
	var b strings.Builder
	b.WriteString("  arm:\n    joints:\n")
	for _, j := range joints {
		way := fmt.Sprintf("axis: [%.17g, %.17g, %.17g], point: [%.17g, %.17g, %.17g]", j.Axis.X, j.Axis.Y, j.Axis.Z, j.Point.X, j.Point.Y, j.Point.Z)
		if j.Slides {
			way = fmt.Sprintf("slides: [%.17g, %.17g, %.17g]", j.Axis.X, j.Axis.Y, j.Axis.Z)
		}
		fmt.Fprintf(&b, "      - {%s, range: [-360, 360], speed: 100, acceleration: 500}\n", way)
	}
	fmt.Fprintf(&b, "    flange: %s\n", poseKeys(flange))
	return b.String()
}

func poseKeys(p geom.Pose) string {
	w, x, y, z := p.R.Quaternion()
	return fmt.Sprintf("{at: [%.17g, %.17g, %.17g], quaternion: [%.17g, %.17g, %.17g, %.17g]}", p.T.X, p.T.Y, p.T.Z, w, x, y, z)
}

func knownKeys(arm *Arm, all ...arm.Readings) string {
	var b strings.Builder
	b.WriteString("    known:\n")
	for _, r := range all {
		p := poseKeys(arm.Pose(r))
		fmt.Fprintf(&b, "      - {joints: %s, %s\n", strings.ReplaceAll(fmt.Sprintf("%.17g", r[:len(arm.Joints)]), " ", ", "), p[1:])
	}
	return b.String()
}

// benchArm has invented dimensions.
func benchArm() []arm.Joint {
	return []arm.Joint{
		{Axis: geom.Vec{Z: 1}},
		{Axis: geom.Vec{Y: 1}, Point: geom.Vec{X: 40, Z: 300}},
		{Axis: geom.Vec{Y: 1}, Point: geom.Vec{X: 40, Z: 570}},
		{Axis: geom.Vec{X: 1}, Point: geom.Vec{Z: 600}},
		{Axis: geom.Vec{Y: 1}, Point: geom.Vec{X: 310, Z: 600}},
		{Axis: geom.Vec{X: 1}, Point: geom.Vec{Z: 600}},
	}
}

var benchFlange = geom.Pose{R: geom.RotY(90), T: geom.Vec{X: 390, Z: 600}}

// threeReadings are what somebody would take who has read FORMAT.md: far apart, no joint at 0.
var threeReadings = []arm.Readings{{20, -30, 40, 15, 60, -25}, {-75, 10, -20, -40, -50, 80}, {130, 45, 25, 70, 35, 10}}

// TestOneSlipIsNamed: three readings of the arm itself name the joint whose sign, or whose zero, the
// cell has otherwise, and no other one, and say what to write.
func TestOneSlipIsNamed(t *testing.T) {
	itself := good(t, axesKeys(benchArm(), benchFlange), nil).Arm
	known := knownKeys(itself, threeReadings...)
	if _, found := laidOut(t, axesKeys(benchArm(), benchFlange)+known, nil); len(found) > 0 {
		t.Fatalf("without a slip: %+v", found)
	}
	for i := range benchArm() {
		name := fmt.Sprintf("J%d", i+1)
		t.Run("sign of "+name, func(t *testing.T) {
			joints := benchArm()
			right := joints[i].Axis
			joints[i].Axis = right.Scale(-1)
			blamed(t, axesKeys(joints, benchFlange)+known, fmt.Sprintf("the sign of %q is the other way round: write its \"axis\" as [%g, %g, %g]", name, right.X, right.Y, right.Z))
		})
		t.Run("zero of "+name, func(t *testing.T) {
			// All that is behind the joint is written as it stands where the joint reads 25.
			zero := arm.Readings{}
			zero[i] = 25
			now := itself.Links(zero)
			joints, flange := benchArm(), itself.Pose(zero)
			for k := range joints {
				if k > i {
					joints[k].Axis, joints[k].Point = now[k-1].R.Apply(joints[k].Axis), now[k-1].Apply(joints[k].Point)
				}
			}
			blamed(t, axesKeys(joints, flange)+known, fmt.Sprintf("the zero of %q is 25° off: where it reads 0, the arm itself stands as the cell has it at -25°", name))
		})
	}
}

// blamed holds the findings to one for each known pose that is off, all with one hint about one joint.
func blamed(t *testing.T, cell, want string) {
	t.Helper()
	_, found := laidOut(t, cell, nil)
	if len(found) == 0 {
		t.Error("nothing was found")
	}
	for _, f := range found {
		if f.Rule != "known-off" || !strings.HasPrefix(f.Hint, want) || strings.Contains(f.Hint, "; or ") {
			t.Errorf("%s: %s (%s), wanted %s", f.Rule, f.Message, f.Hint, want)
		}
	}
}

// One reading leaves open which slip it was, and says so.
func TestOneReadingIsNotEnough(t *testing.T) {
	itself := good(t, axesKeys(benchArm(), benchFlange), nil).Arm
	joints := benchArm()
	joints[5].Axis = joints[5].Axis.Scale(-1)
	r := threeReadings[0]
	r[4] = 0 // then joints 4 and 6 turn about one axis
	_, found := laidOut(t, axesKeys(joints, benchFlange)+knownKeys(itself, r), nil)
	if len(found) != 1 || !strings.Contains(found[0].Hint, `the sign of "J6"`) || !strings.Contains(found[0].Hint, `the zero of "J4"`) || !strings.Contains(found[0].Hint, "would tell which") {
		t.Errorf("found %+v", found)
	}
}

// TestSlipsOfRandomArms tries what the hints say on arms of any kind, written as axes and as rows: a
// sign, a zero, and both.
func TestSlipsOfRandomArms(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 1))
	for range 60 {
		joints := randomJoints(rng)
		flange := geom.At(randomVec(rng, 400), geom.RPY{Roll: rng.Float64() * 300, Pitch: rng.Float64() * 80, Yaw: rng.Float64() * 300})
		itself := &arm.Arm{Joints: joints, Flange: flange}
		i, times, zero := rng.IntN(len(joints)), []float64{1, -1}[rng.IntN(2)], 10+rng.Float64()*100
		var all []Known
		for range 4 {
			k := Known{Readings: randomReadings(rng, joints)}
			k.Pose = itself.Pose(k.Readings)
			k.Readings[i] = (k.Readings[i] - zero) * times // what the controller shows: the cell's reading is times·it + zero
			all = append(all, k)
		}
		a := &Arm{Arm: itself, Known: all, Tolerance: 0.01, Turned: 0.01}
		a.off()
		for k := range joints {
			for _, try := range trials {
				got, fits := a.fits(k, try)
				right := k == i && try.times == times && try.shifted
				if fits != right {
					t.Errorf("joint %d of %d, times %g, shifted %v: fits is %v, but joint %d was times %g and %g off", k, len(joints), try.times, try.shifted, fits, i, times, zero)
				}
				if d := math.Mod(got-zero+540, 360) - 180; fits && math.Abs(d) > 1e-6 && !joints[k].Slides || fits && joints[k].Slides && math.Abs(got-zero) > 1e-6 {
					t.Errorf("the zero is %g, wanted %g", got, zero)
				}
			}
		}
	}
}

func randomJoints(rng *rand.Rand) []arm.Joint {
	joints := make([]arm.Joint, 2+rng.IntN(6))
	for i := range joints {
		axis, _ := randomVec(rng, 1).Unit()
		joints[i] = arm.Joint{Name: fmt.Sprint("J", i+1), Axis: axis, Point: randomVec(rng, 300), Lo: -400, Hi: 400, Slides: rng.IntN(4) == 0}
		if joints[i].Slides {
			joints[i].Point = geom.Vec{}
		}
	}
	return joints
}

func randomVec(rng *rand.Rand, size float64) geom.Vec {
	at := func() float64 { return (2*rng.Float64() - 1) * size }
	return geom.Vec{X: at(), Y: at(), Z: at()}
}

func randomReadings(rng *rand.Rand, joints []arm.Joint) (r arm.Readings) {
	for i := range joints {
		r[i] = (2*rng.Float64() - 1) * 150
	}
	return r
}

// TestReversedRows does what the hints about rows say, and the sign is the other one.
func TestReversedRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 2))
	for _, convention := range []string{plan.StandardDH, plan.ModifiedDH} {
		rows := make([]*plan.ArmJoint, 5)
		set := func(v float64) plan.Real { return plan.Real{V: v} }
		for i := range rows {
			rows[i] = &plan.ArmJoint{Slides: i == 3, Row: plan.DHRow{A: set(100 * rng.Float64()), Alpha: set(90 * rng.Float64()), D: set(100 * rng.Float64()), Theta: set(90 * rng.Float64())}}
		}
		build := func(rows []*plan.ArmJoint, base, flange geom.Pose) *arm.Arm {
			joints, end := ofRows(rows, convention == plan.ModifiedDH, base, flange)
			for i := range joints {
				joints[i].Slides = rows[i].Slides
			}
			return &arm.Arm{Joints: joints, Flange: end}
		}
		for i := range rows {
			turned := make([]*plan.ArmJoint, len(rows))
			for k := range rows {
				row := *rows[k]
				turned[k] = &row
			}
			half := geom.Pose{R: geom.RotX(180)}
			base, flange := geom.Identity, geom.Identity
			own, beside := &turned[i].Row, i+1
			if convention == plan.StandardDH {
				beside = i - 1
			}
			own.Alpha.V += 180
			own.Theta.V, own.D.V = -own.Theta.V, -own.D.V
			switch {
			case beside < 0:
				base = half
			case beside == len(rows):
				flange = half
			default:
				turned[beside].Row.Alpha.V += 180
			}
			r := randomReadings(rng, make([]arm.Joint, len(rows)))
			want := build(rows, geom.Identity, geom.Identity).Pose(r)
			r[i] = -r[i]
			nearPose(t, fmt.Sprint(convention, " row ", i+1), build(turned, base, flange).Pose(r), want, 1e-9)
		}
	}
}

// TestURDFAndBack: an arm that is written as a file is the same arm when it is read, and Debian's parser of
// the format takes the file.
func TestURDFAndBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 3))
	for n := range 20 {
		joints := randomJoints(rng)
		was := described(t, axesKeys(joints, geom.At(randomVec(rng, 300), geom.RPY{Roll: 40, Pitch: -20, Yaw: 70}))+
			"    links: {J2: [{capsule: {from: [0, 0, 300], to: [0, 20, 570], radius: 60}}, {sphere: {at: [10, 20, 30], radius: 5}}, {box: {from: [1, 2, 3], to: [11, 22, 33]}}]}\n")
		t.Chdir(t.TempDir())
		if err := os.WriteFile("arm.urdf", WriteURDF(was), 0o666); err != nil {
			t.Fatal(err)
		}
		again := described(t, "  arm: {urdf: arm.urdf}\n")
		sameJoints(t, again, was)
		for range 10 {
			r := randomReadings(rng, joints)
			nearPose(t, fmt.Sprint(r), again.Pose(r), was.Pose(r), 1e-9)
		}
		sameShapes(t, again.Shapes[2], was.Shapes[2])
		once, twice := WriteURDF(was), WriteURDF(was)
		if !bytes.Equal(once, twice) {
			t.Error("not the same bytes twice")
		}
		if n == 0 && !testing.Short() && !outside.Takes(t, "liburdfdom-tools", "check_urdf", "arm.urdf") {
			t.Errorf("check_urdf refuses the file:\n%s", WriteURDF(was))
		}
	}
}

func sameJoints(t *testing.T, got, want *Arm) {
	t.Helper()
	if len(got.Joints) != len(want.Joints) {
		t.Fatalf("%d joints, wanted %d", len(got.Joints), len(want.Joints))
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
	for i, j := range got.Joints {
		if w := want.Joints[i]; j.Name != w.Name || j.Slides != w.Slides || !near(j.Lo, w.Lo) || !near(j.Hi, w.Hi) || !near(got.Speeds[i], want.Speeds[i]) {
			t.Errorf("joint %d is %+v, wanted %+v", i+1, j, w)
		}
	}
}

// sameShapes holds a capsule, a sphere and a box to what is read again, where two spheres more close
// the ends of the capsule.
func sameShapes(t *testing.T, got, want []LinkShape) {
	t.Helper()
	near := func(a, b geom.Vec) bool { return a.Dist(b) < 1e-9 }
	if len(got) != 5 || got[0].Radius != 60 || !near(got[0].From, want[0].From) || !near(got[0].To, want[0].To) ||
		got[3].Radius != 5 || !near(got[3].From, want[1].From) || !near(got[4].Half, want[2].Half) || !near(got[4].At.T, want[2].At.T) {
		t.Errorf("shapes %+v, wanted %+v", got, want)
	}
}
