package check_test

import (
	"strings"
	"testing"
)

// TestWindingRunAfterRun: a job turns the tool on by 120 degrees and by 120 again, and then goes to where it began, which is
// another 120 on. So every run of a controller that takes the shorter turn winds up by 360: worked out by hand, run n begins
// 360·(n-1) from where the first one does, and comes to 120, 240 and 360 more.
func TestWindingRunAfterRun(t *testing.T) {
	t.Parallel()
	bad := planOf(t, page(t, "may-wind-up").Bad)
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
		text := strings.NewReplacer("winding: 400", "winding: "+tt.winding, "[-900, 900]", tt.span).Replace(bad)
		found := findings(t, text)
		switch {
		case tt.want == "" && len(found) > 0:
			t.Errorf("winding %s in %s: %v", tt.winding, tt.span, found)
		case tt.want != "" && (len(found) != 1 || !strings.Contains(found[0].Message, tt.want)):
			t.Errorf("winding %s in %s: %v, wanted %s", tt.winding, tt.span, found, tt.want)
		}
	}
}

// TestWindingByTheTurnNearestTo0: a job begins with the joint at 180 and turns it little. To the first slot, 90 mm beside the arm and
// 280 before it, it turns with the arm's foot, by atan(90/280) = 17.8 degrees; that is at -162.2 on the turn nearest to 0.
func TestWindingByTheTurnNearestTo0(t *testing.T) {
	t.Parallel()
	text := strings.NewReplacer("winding: 400", "winding: 100", "[180, 0, 120]", "[180, 0, -20]", "[180, 0, 240]", "[180, 0, 20]").Replace(planOf(t, page(t, "may-wind-up").Bad))
	const want = `transfer 1: at "tray A1 approach" the joint J6 is turned by -342.2° from where it began, if the controller gets poses alone and takes the turn nearest to 0 with every travel; 100° are allowed`
	if found := findings(t, text); len(found) != 1 || !strings.Contains(found[0].Message, want) {
		t.Errorf("%v, wanted %s", found, want)
	}
}
