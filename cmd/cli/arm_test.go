package cli_test

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"
)

// armCell is an arm with a spherical wrist, of invented dimensions, in a cell.
const armCell = `format: gridferry cell 1
name: arm bench
arm:
  joints:
    - {name: J1, axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170], speed: 200}
    - {name: J2, axis: [0, 1, 0], point: [60, 0, 300], range: [-100, 130]}
    - {name: J3, axis: [0, 1, 0], point: [60, 0, 620], range: [-200, 70]}
    - {name: J4, axis: [1, 0, 0], point: [60, 0, 660], range: [-185, 185]}
    - {name: J5, axis: [0, 1, 0], point: [400, 0, 660], range: [-120, 120]}
    - {name: J6, axis: [1, 0, 0], point: [400, 0, 660], range: [-350, 350]}
  flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
tools:
  jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}
  twin:
    tcp: {at: [0, 0, 120]}
    mass: 0.6
    zones:
      left:  {at: [-30, 0, 0], grip: {output: 2, level: on}, release: {output: 2, level: off}}
      right: {at: [30, 0, 0], grip: {output: 3, level: on}, release: {output: 3, level: off}}
poses: {clear: {at: [400, 0, 400]}}
keep_out: {}
`

const armPlan = `format: gridferry plan 1
cell: arm.cell.yaml
parts: {p: {mass: 0.1, size: [20, 20, 20]}}
grids:
  near: {frame: base, rows: 2, columns: 2, pitch: [50, 50], first: [350, 0, 60], part: p, filled: all}
  far: {frame: base, rows: 1, columns: 6, pitch: [80, 0], first: [350, 100, 60], part: p}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 40}, clear: clear}
transfers:
  - {from: near A1, to: far A1}
`

func armBench(t *testing.T) {
	t.Helper()
	t.Setenv("NO_COLOR", "1")
	t.Chdir(t.TempDir())
	put(t, "arm.cell.yaml", armCell)
	put(t, "arm.plan.yaml", armPlan)
}

// TestArmAnswers: of a cell and of a plan, in words and as data.
func TestArmAnswers(t *testing.T) {
	armBench(t)
	for _, c := range []struct {
		args string
		want []string
	}{
		{"arm.cell.yaml", []string{"six axes with a spherical wrist\n", "J2     turns about [0 1 0]  60 0 300", "200°/s", "flange, with all joints at 0: 480 0 660, rpy 0 90 0", "front up up", "known readings: none"}},
		{"arm.plan.yaml", []string{"six axes with a spherical wrist\n"}},
		{"arm.cell.yaml --joints=0,0,0,0,0,0", []string{"flange         480 0 660, rpy 0 90 0\n", "configuration  front up up\n"}},
		{"arm.cell.yaml --joints=180,0,0,0,0,0", []string{"J1 is 10° outside of its range of -170 to 170°\n"}},
		{"arm.cell.yaml --joints=0,0,0,0,90,0 --tool=jaw", []string{"flange         400 0 580, rpy 180 0 180\njaw            400 0 480"}},
		{"arm.cell.yaml --joints=0,0,0,0,90,0 --tool=twin_right", []string{"twin right     370 0 460"}},
		{"arm.cell.yaml --at=400,0,580,180,0,180", []string{"0.000     0.000     0.000     0.000    90.000     0.000  front up up", "J1 10.0° outside"}},
		{"arm.cell.yaml --at=5000,0,0,0,0,0", []string{"the arm does not get there, whatever its joints do"}},
		{"arm.cell.yaml --urdf", []string{"<robot"}},
		{"arm.plan.yaml --reach=far", []string{"A1    ", "front up up", "A6    not reached\n", "reached by \"jaw\", at the slot and at its approach point: 5 of 6 slots of \"far\"\n"}},
		{"arm.plan.yaml --reach=near --tool=twin_left", []string{"reached by \"twin left\""}},
	} {
		r := gridferry("", armArgs(c.args)...)
		if r.status != 0 || r.err != "" {
			t.Errorf("%s: status %d, %s", c.args, r.status, r.err)
		}
		for _, want := range c.want {
			if !strings.Contains(r.out, want) {
				t.Errorf("%s: no %q in\n%s", c.args, want, r.out)
			}
		}
		if strings.Contains(c.args, "urdf") {
			continue
		}
		data := gridferry("", append(armArgs(c.args), "--format", "json")...)
		if data.status != 0 || !json.Valid([]byte(data.out)) {
			t.Errorf("%s as JSON: status %d, %s%s", c.args, data.status, data.out, data.err)
		}
	}
}

func armArgs(line string) []string {
	args := append([]string{"arm"}, strings.Fields(line)...)
	for i := range args {
		if strings.HasPrefix(args[i], "--tool") {
			args[i] = strings.ReplaceAll(args[i], "_", " ")
		}
	}
	return args
}

// TestArmGoesThereAndBack: what --at answers, --joints brings to the same pose.
func TestArmGoesThereAndBack(t *testing.T) {
	armBench(t)
	r := gridferry("", "arm", "arm.cell.yaml", "--at", "380 120 90 175 8 -40", "--tool", "jaw", "--format", "json")
	var all []struct{ Joints []float64 }
	if err := json.Unmarshal([]byte(r.out), &all); err != nil || len(all) < 2 {
		t.Fatal(err, r.out, r.err)
	}
	for _, s := range all {
		text, err := json.Marshal(s.Joints)
		if err != nil {
			t.Fatal(err)
		}
		back := gridferry("", "arm", "arm.cell.yaml", "--joints", strings.Trim(string(text), "[]"), "--tool", "jaw", "--format", "json")
		var pose struct{ Tool struct{ At, RPY []float64 } }
		if err := json.Unmarshal([]byte(back.out), &pose); err != nil || len(pose.Tool.At) != 3 || len(pose.Tool.RPY) != 3 {
			t.Fatal(err, back.out, back.err)
		}
		for i, want := range []float64{380, 120, 90, 175, 8, -40} {
			if got := append(pose.Tool.At, pose.Tool.RPY...)[i]; math.Abs(got-want) > 1e-5 {
				t.Errorf("%v leads to %v", s.Joints, pose.Tool)
			}
		}
	}
}

// TestArmSaysWhatIsWrong: with the statuses that other commands have.
func TestArmSaysWhatIsWrong(t *testing.T) {
	armBench(t)
	put(t, "bad.cell.yaml", strings.Replace(armCell, "range: [-170, 170]", "range: [170, -170]", 1))
	put(t, "none.cell.yaml", "format: gridferry cell 1\nname: none\ntools: {jaw: {tcp: {at: [0, 0, 1]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}\n")
	put(t, "wrong.plan.yaml", strings.Replace(armPlan, "to: far A1", "to: nowhere", 1))
	put(t, "slots.yaml", "format: gridferry slots 1\n")
	for _, c := range []struct {
		args   string
		status int
		want   string
	}{
		{"arm.cell.yaml --joints=1,2", 2, "--joints: found 2 values, wanted 6, one for each joint"},
		{"arm.cell.yaml --joints=", 2, "--joints: found 0 values, wanted 6, one for each joint"},
		{"arm.cell.yaml --at=1,2,x,4,5,6", 2, `--at: found "x", wanted a number`},
		{"arm.cell.yaml --at=1,2,NaN,4,5,6", 2, `--at: found "NaN", wanted a number`},
		{"arm.cell.yaml --at=1,2,3", 2, "--at: found 3 values, wanted 6: x y z roll pitch yaw, in mm and degrees"},
		{"arm.cell.yaml --at=1,2,3,4,5,6 --tool=twin", 2, `--tool is "twin", wanted one of jaw, twin left, twin right`},
		{"arm.cell.yaml --reach=far", 2, "a cell has no grids: name a plan for --reach"},
		{"arm.plan.yaml --reach=fra", 2, `--reach is "fra", wanted one of near, far`},
		{"arm.plan.yaml --reach=", 2, `--reach is "", wanted one of near, far`},
		{"none.cell.yaml", 2, "the cell does not say what its arm is"},
		{"bad.cell.yaml", 1, "bad.cell.yaml:5:"},
		{"wrong.plan.yaml", 0, ""},
		{"wrong.plan.yaml --joints=0,0,0,0,0,0", 0, ""},
		{"wrong.plan.yaml --reach=near", 1, "wrong.plan.yaml:9:"},
		{"slots.yaml", 1, "this is a file of slots, wanted a plan"},
		{"missing.yaml", 2, "missing.yaml"},
	} {
		r := gridferry("", armArgs(c.args)...)
		if r.status != c.status || !strings.Contains(r.err, c.want) || (c.status == 0) != (r.out != "") || (c.want == "") != (r.err == "") {
			t.Errorf("%s: status %d, wanted %d\n%s%s", c.args, r.status, c.status, r.out, r.err)
		}
	}
}

// TestReachAsPicture: it is written as other pictures are, and replaces no file but those.
func TestReachAsPicture(t *testing.T) {
	armBench(t)
	first := gridferry("", "arm", "arm.plan.yaml", "--reach", "far", "-o", "far.svg")
	text, err := os.ReadFile("far.svg")
	if err != nil || first.status != 0 || !strings.Contains(string(text), "Reach of far with jaw") {
		t.Fatal(err, first)
	}
	again := gridferry("", "arm", "arm.plan.yaml", "--reach", "far", "-o", "-")
	if again.status != 0 || again.out != string(text) {
		t.Error("another picture on standard output", again.err)
	}
	if r := gridferry("", "arm", "arm.plan.yaml", "--reach", "near", "-o", "far.svg"); r.status != 0 {
		t.Error("a picture is not replaced:", r.err)
	}
	put(t, "mine.svg", "<svg/>")
	if r := gridferry("", "arm", "arm.plan.yaml", "--reach", "far", "-o", "mine.svg"); r.status != 1 || !strings.Contains(r.err, "not-ours") {
		t.Error("a file of other origin:", r)
	}
	if r := gridferry("", "arm", "arm.plan.yaml", "--reach", "far", "-o", "mine.svg", "--replace"); r.status != 0 {
		t.Error("with --replace:", r.err)
	}
}
