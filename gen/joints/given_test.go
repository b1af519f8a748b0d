package joints_test

import (
	"strings"
	"testing"
)

// A pose that is given by readings is reached with just these or not at all: a straight on which the arm would have to turn its wrist
// round does not end at others, which bring the TCP to the same place.
func TestGivenReadingsAreTakenOrNone(t *testing.T) {
	steps := func(step string) string {
		return strings.NewReplacer(
			", configuration: front up up", "",
			"poses: {clear: {at: [400, 0, 300]}}", "poses: {clear: {joints: [0, 0, 0, 0, 90, 0]}, near: {joints: [10, 5, 0, 0, 85, 0]}, round: {joints: [20, 5, 0, 180, -85, 170]}}",
			"transfers:", "begin: [{go: near}, {"+step+": round}]\ntransfers:",
		).Replace(withPose(t, "{at: [400, 0, 300]}", "front up up"))
	}
	for step, may := range map[string]bool{"go": true, "line": false} {
		j := read(t, steps(step))
		for _, m := range motions(j.Batches()) {
			if m.Target.Pose == "round" && m.has != may {
				t.Errorf("%s: the motion has joints: %t, %v", step, m.has, m.joints)
			}
		}
		j.Check()
		found := false
		for _, f := range j.Findings.Sorted() {
			found = found || f.Rule == "configuration-not-possible"
		}
		if found == may {
			t.Errorf("%s: %v", step, j.Findings.Sorted())
		}
	}
}
