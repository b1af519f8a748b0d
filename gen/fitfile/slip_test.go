package fitfile_test

import (
	"strings"
	"testing"

	"gridferry/gen/fitfile"
)

// A slip in one of three points makes another frame without a residual: the angle
// between the touched directions tells. Each of these was made from the first.
func TestSlipsInThreePoints(t *testing.T) {
	for _, c := range []struct{ points, want, hint string }{
		{"origin: [200, -300, 30], along_x: [600, -302, 30.4], toward_y: [202, 100, 29.8]", "", ""},
		{"origin: [200, -300, 30], along_x: [600, 302, 30.4], toward_y: [202, 100, 29.8]", "lie 33.3 degrees apart", "a sign, two axes or a unit?"},
		{"origin: [-300, 200, 30], along_x: [600, -302, 30.4], toward_y: [202, 100, 29.8]", "lie 17.9 degrees apart", `One such slip in "origin" would`},
		{"origin: [200, -300, 30], along_x: [600, 30.4, -302], toward_y: [202, 100, 29.8]", "lie 57.3 degrees apart", "a sign, two axes or a unit?"},
		{"origin: [200, -300, 30], along_x: [60, -30.2, 3.04], toward_y: [202, 100, 29.8]", "and its Z axis points down", `One such slip in "along_x" would`},
		{"origin: [200, -300, 30], along_x: [23.622, -11.89, 1.197], toward_y: [202, 100, 29.8]", "and its Z axis points down", `One such slip in "along_x" would`},
		// The same frame: toward_y only says on which side Y lies.
		{"origin: [200, -300, 30], along_x: [600, -302, 30.4], toward_y: [100, 202, 29.8]", "", ""},
	} {
		a, findings := solve(t, fitfile.Request{Kind: "frame"}, "f.yaml", "three_points: {"+c.points+"}\n")
		if a == nil {
			t.Fatalf("%s: no answer", c.points)
		}
		if c.want == "" {
			if len(findings) != 0 {
				t.Errorf("%s: got %s", c.points, findings[0].Message)
			}
			continue
		}
		if len(findings) != 1 {
			t.Errorf("%s: got %d findings, want one", c.points, len(findings))
			continue
		}
		f := findings[0]
		if f.Rule != "points-oblique" || !strings.Contains(f.Message, c.want) || !strings.Contains(f.Hint, c.hint) || f.Place.Line != 1 || f.Place.Col != 15 {
			t.Errorf("%s: got %s: %s, hint %q", c.points, f.Place, f.Message, f.Hint)
		}
	}
}

// Just within 60 to 120 degrees there is no warning, just beyond there is.
func TestObliqueLimits(t *testing.T) {
	for y, want := range map[string]int{"[50.1, 86.6, 0]": 1, "[49.9, 86.6, 0]": 0, "[-49.9, 86.6, 0]": 0, "[-50.1, 86.6, 0]": 1} {
		_, findings := solve(t, fitfile.Request{Kind: "frame"}, "f.yaml", "three_points: {origin: [0, 0, 0], along_x: [100, 0, 0], toward_y: "+y+"}\n")
		if len(findings) != want {
			t.Errorf("toward_y %s: got %d findings, want %d", y, len(findings), want)
		}
	}
}
