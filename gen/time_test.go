package gen_test

import (
	"math"
	"testing"

	"gridferry/gen"
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
		report := j.Time()
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
