package golden

import (
	"regexp"
	"strings"
	"testing"
)

// overclaimed is what no check has looked at: that a way leads over everything, or through
// free space; and which way is down.
var overclaimed = regexp.MustCompile(`(?i)leads over|in free space, however|nothing is in the way, so|pass over everything|without touching|out of the way of people|straight (up|down|above)|rises? to the clear`)

// Reasons claim nothing that was not checked; sheet and listing say "straight down" only of
// grids that stand upright: one of the odd grids leans by 45 degrees.
func TestOnlyWhatWasCheckedIsClaimed(t *testing.T) {
	odd := demoFolder + "/odd-grids.plan.yaml"
	for name, text := range map[string]string{
		"explain":          mustRun(t, "explain", cubes),
		"sheet, leaning":   mustRun(t, "sheet", odd, "-o", "-"),
		"listing, leaning": mustRun(t, "write", odd, "--family", "listing", "-o", "-"),
	} {
		if found := overclaimed.FindString(text); found != "" {
			t.Errorf("%s claims %q", name, found)
		}
	}
	if upright := mustRun(t, "sheet", cubes, "-o", "-"); !strings.Contains(upright, "straight down, grip, straight up") {
		t.Error("the sheet of upright grids does not say straight down")
	}
}
