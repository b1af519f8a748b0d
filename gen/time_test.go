package gen_test

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
)

// TestLeversAreOfTheRun: what a change would do is worked out for the run that is asked for,
// and not of the whole job. A change of nothing adds nothing, so what 10 % less and 10 %
// more add lies on either side of it, and is a part of the time and no more.
func TestLeversAreOfTheRun(t *testing.T) {
	for name, run := range map[string]gen.Run{
		"whole": {}, "prove-out": {ProveOut: &proveout.Options{Speed: 100, Lift: 30}}, "resumed job": {Resume: &resume.Request{Transfer: 2}},
	} {
		j := jobOf(t, runPlan)
		if !j.Prepare(run) {
			t.Fatal(errorsOf(j))
		}
		report := j.Time(nil)
		for _, c := range report.Changes {
			if c.Less*c.More > 1e-9 || math.Abs(c.Less) > report.Seconds/8 || math.Abs(c.More) > report.Seconds/8 {
				t.Errorf("%s of %.1f s: %s adds %.2f s or %.2f s", name, report.Seconds, c.What, c.Less, c.More)
			}
			if name == "prove-out" && c.What == "settle" && (c.Less != 0 || c.More != 0) {
				t.Errorf("nothing settles in a prove-out without the gripper, but %s adds %.2f s or %.2f s", c.What, c.Less, c.More)
			}
		}
	}
}

// TestTimeAsAFamilyWritesIt: a family that stops at every point takes, without a limit on
// jerk, for each way the time of a trapezoid from stop to stop: way/speed + speed/acceleration
// or, where the way is too short for the speed, twice the root of way/acceleration.
func TestTimeAsAFamilyWritesIt(t *testing.T) {
	text := strings.NewReplacer("machine: {", "machine: {acceleration: 2500, ", "near: 60}", "near: 60}, fly_by: 15").Replace(runPlan)
	j := jobOf(t, text)
	want, at := 0.0, (*move.Point)(nil)
	for m := range j.Moves() {
		if m.Kind == move.Dwell {
			want += m.Seconds
		}
		if !m.Kind.IsMotion() {
			continue
		}
		if here := m.Base; at == nil {
			at = &here
		} else if way := at.Dist(here.Vec); way*2500 > m.Speed*m.Speed {
			want, at = want+way/m.Speed+m.Speed/2500, &here
		} else {
			want, at = want+2*math.Sqrt(way/2500), &here
		}
	}
	asPlanned := j.Time(nil).Seconds
	for name, seconds := range map[string]float64{"iso6983": want, "listing": asPlanned} {
		if got := j.Time(loaded(t, j, name, "")).Seconds; math.Abs(got-seconds) > 1e-6 {
			t.Errorf("%s: %g s, wanted %g s", name, got, seconds)
		}
	}
	// With the other grid in a frame of its own a select stands behind some fly-bys.
	framed := jobOf(t, strings.NewReplacer("  poses:", "  frames: {f: {at: [0, 0, 0]}}\n  poses:", "there: {frame: base", "there: {frame: f").Replace(text))
	some := framed.Time(loaded(t, framed, "listing", "fly_by: between-motions\n")).Seconds
	if some < asPlanned+0.05 || some > want-0.05 {
		t.Errorf("between motions %g s, as planned %g s, with stops %g s", some, asPlanned, want)
	}
	if asPlanned > want-0.1 {
		t.Errorf("as planned %g s, with stops %g s", asPlanned, want)
	}
	if st := j.Time(loaded(t, j, "st", "")).Seconds; st < want+1 { // it holds a jerk that the cell does not say
		t.Errorf("st: %g s, with stops and no limit on jerk %g s", st, want)
	}
}

// TestTimeOfAWholeTurn: an axis that goes the long way round takes its time, at 90 degrees
// a second four seconds for each of the two slots.
func TestTimeOfAWholeTurn(t *testing.T) {
	text := strings.NewReplacer("height: [0, 400]}", "height: [0, 400]}, rotation: {speed: 90}", "300, 0, 300]", "300, 0, 300], rpy: [180, 0, 180]",
		"filled: all", "filled: all, rpy: [180, 0, 180]", "[300, 200, 20], part: block", "[300, 200, 20], part: block, rpy: [180, 0, -179.943]").Replace(runPlan)
	seconds := func(text string) float64 {
		j := jobOf(t, text)
		return j.Time(loaded(t, j, "iso6983", "")).Seconds
	}
	long, short := seconds(text), seconds(strings.Replace(text, "speed: 90}", "speed: 90, range: [-360, 360]}", 1))
	if more := long - short; more < 3 || more > 8.1 {
		t.Errorf("%g s with a whole turn, %g s without", long, short)
	}
}

// armedPlan is runPlan with an arm, of which the first joint is slow, and without a clear pose.
var armedPlan = strings.NewReplacer("  tools:", `  arm:
    joints:
      - {axis: [0, 0, 1], point: [0, 0, 0],     range: [-170, 170], speed: 30, acceleration: 90}
      - {axis: [0, 1, 0], point: [70, 0, 345],  range: [-110, 130], speed: 200, acceleration: 800}
      - {axis: [0, 1, 0], point: [70, 0, 735],  range: [-190, 75],  speed: 220, acceleration: 900}
      - {axis: [1, 0, 0], point: [70, 0, 775],  range: [-185, 185], speed: 330, acceleration: 1400}
      - {axis: [0, 1, 0], point: [480, 0, 775], range: [-120, 120], speed: 330, acceleration: 1400}
      - {axis: [1, 0, 0], point: [480, 0, 775], range: [-350, 350], speed: 450, acceleration: 2000}
    flange: {at: [565, 0, 775], rpy: [0, 90, 0]}
  tools:`, ", clear: clear", "", "reach: {", "acceleration: 2500, reach: {").Replace(runPlan)

type limits struct {
	Limits []struct {
		Joint     string
		Travels   int
		Straights int
	}
	Legs []struct{ Limit string }
}

// TestJointsLimitTravels: a slow first joint limits the four travels from side to side, and not the straights, on which
// it hardly turns. Families whose travels are lines have its limit all the same, on a shorter way of the TCP.
func TestJointsLimitTravels(t *testing.T) {
	j := jobOf(t, armedPlan)
	report := j.Time(nil)
	if got, want := report.Limiting(), "J1 limits 3 of 3 travels"; got != want {
		t.Errorf("%q, wanted %q", got, want)
	}
	var text bytes.Buffer
	var data limits
	if err := report.WriteJSON(&text, "x"); err != nil || json.Unmarshal(text.Bytes(), &data) != nil || len(data.Limits) != 2 ||
		data.Limits[0].Straights != 8 || data.Limits[1].Joint != "J1" || data.Limits[1].Travels != 3 || data.Legs[0].Limit != "J1" {
		t.Errorf("%v: %+v\n%s", err, data, &text)
	}
	line := j.Time(loaded(t, j, "listing", "travel_path: line\n"))
	if line.Distance >= report.Distance || line.Seconds > report.Seconds+1e-9 {
		t.Errorf("by lines %g mm in %g s, by joints %g mm in %g s", line.Distance, line.Seconds, report.Distance, report.Seconds)
	}
	if swift := jobOf(t, strings.Replace(armedPlan, "speed: 30, acceleration: 90", "speed: 300, acceleration: 9000", 1)).Time(nil); swift.Limiting() != "no joint slows a motion down" {
		t.Errorf("of a swift arm: %q", swift.Limiting())
	}
}

// TestOrdersAreWeighedByTheTimes: what an order by time is weighed by is what the travels of the list take, from stop to stop.
func TestOrdersAreWeighedByTheTimes(t *testing.T) {
	for _, text := range []string{armedPlan, strings.Replace(armedPlan, "speed: 30, acceleration: 90", "speed: 300", 1), strings.Replace(runPlan, ", clear: clear", "", 1)} {
		j := jobOf(t, text)
		sum := 0.0
		report := j.Time(nil)
		for _, k := range report.Kinds {
			if k.Kind == move.Travel {
				sum = k.Seconds
			}
		}
		if got := j.Order(layout.ByTime).Written.Length / 1000; math.Abs(got-sum) > 1e-5 || sum == 0 {
			t.Errorf("weighed as %g s, the travels take %g s", got, sum)
		}
	}
}
