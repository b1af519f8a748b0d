package check_test

import (
	"strings"
	"testing"

	"gridferry/gen/check"
)

// TestWindingRunAfterRun: a job turns the tool on by 120 degrees and by 120 again, and then goes to where it began, which is
// another 120 on. So every run of a controller that takes the shorter turn winds up by 360: worked out by hand, run n begins
// 360·(n-1) from where the first one does, and comes to 120, 240 and 360 more.
func TestWindingRunAfterRun(t *testing.T) {
	t.Parallel()
	var bad check.Example
	for _, r := range check.Rules {
		for _, f := range r.Finds {
			if f.Name == "may-wind-up" {
				bad = f.Bad
			}
		}
	}
	for _, tt := range []struct{ winding, span, want string }{
		{"400", "[-900, 900]", `at "first" the joint J6 is turned by -480.0° from where it began, if the controller gets poses alone and takes the shorter turn to each, in run 2`},
		{"500", "[-900, 900]", `at "second" the joint J6 is turned by -600.0° from where it began, if the controller gets poses alone and takes the shorter turn to each, in run 2`},
		{"700", "[-900, 900]", `at "clear" the joint J6 is turned by -720.0° from where it began, if the controller gets poses alone and takes the shorter turn to each, in run 2`},
		{"730", "[-900, 900]", `transfer 1: at "rack A1 approach" the joint J6 is turned by -759.4° from where it began, if the controller gets poses alone and takes the shorter turn to each, in run 3`},
		{"800", "[-900, 900]", `at "first" the joint J6 is turned by -840.0° from where it began, if the controller gets poses alone and takes the shorter turn to each, in run 3`},
		{"1100", "[-900, 900]", ""}, // the job begins at 180, and 1080 less is the end of the range
		{"400", "[-350, 350]", `at "first" the joint J6 is turned by -480.0° from where it began, if the controller gets poses alone and takes the shorter turn to each, in run 2`},
		{"500", "[-350, 350]", ""}, // 120 further on the range ends, and it turns back
	} {
		text := strings.NewReplacer("winding: 400", "winding: "+tt.winding, "[-900, 900]", tt.span).Replace(planOf(t, bad))
		found := findings(t, text)
		switch {
		case tt.want == "" && len(found) > 0:
			t.Errorf("winding %s in %s: %v", tt.winding, tt.span, found)
		case tt.want != "" && (len(found) != 1 || !strings.Contains(found[0].Message, tt.want)):
			t.Errorf("winding %s in %s: %v, wanted %s", tt.winding, tt.span, found, tt.want)
		}
	}
}
