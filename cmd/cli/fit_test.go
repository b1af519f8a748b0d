package cli_test

import (
	"strings"
	"testing"
)

// fit runs "gridferry fit" with a text on standard input.
func fit(stdin string, args ...string) (status int, out, err string) {
	r := gridferry(stdin, append([]string{"fit"}, args...)...)
	return r.status, r.out, r.err
}

const threeTouches = "name,x,y,z\norigin,310,-210,42\nalong_x,520,-206,42.4\ntoward_y,307,-40,41.8\n"

func TestFitFromStandardInput(t *testing.T) {
	status, out, err := fit(threeTouches, "frame", "-", "--name", "bath", "--format", "yaml")
	if status != 0 || !strings.Contains(out, "frames:\n  bath:\n    at: [310.0000, -210.0000, 42.0000]\n") || err != "" {
		t.Errorf("status %d, out %q, err %q", status, out, err)
	}
}

// With an error there is nothing to paste, while the table still shows what is wrong.
func TestFitWithAnError(t *testing.T) {
	const lifted = "slot,x,y,z\nA1,0,0,0\nA9,80,0,0\nH1,0,70,0\nH9,80,70,3\n"
	status, out, err := fit(lifted, "grid", "-", "--format", "yaml")
	if status != 1 || out != "" || !strings.Contains(err, "[residual-too-large]") {
		t.Errorf("yaml: status %d, out %q, err %q", status, out, err)
	}
	status, out, _ = fit(lifted, "grid", "-")
	if status != 1 || !strings.Contains(strings.Join(strings.Fields(out), " "), "miss of the fourth corner 3.0000 mm") {
		t.Errorf("text: status %d, out %q", status, out)
	}
	if status, _, err = fit(lifted, "grid", "-", "--tolerance", "1 cm"); status != 0 || err != "" {
		t.Errorf("with a tolerance of 1 cm: status %d, err %q", status, err)
	}
}

// A whole cell, plan or file of measured values in place of touched points is one finding,
// which says what to name.
func TestFitOfAWholeFile(t *testing.T) {
	for kind, keys := range map[string]string{"frame": `"three_points" or "best_fit"`, "tool": `"pivot"`, "grid": `"corners"`} {
		for format, what := range map[string]string{"cell": "a cell", "plan": "a plan", "measured": "a file of measured values"} {
			text := "format: gridferry " + format + " 1\nname: bench\nframes: {bath: {at: [0, 0, 0]}}\ntools: {}\n"
			status, out, err := fit(text, kind, "-")
			want := "1:9: error: this is " + what + ", wanted a file of touched points of one " + kind + " [bad-format]"
			if status != 1 || out != "" || strings.Count(err, "error:") != 1 || !strings.Contains(err, want) || !strings.Contains(err, keys) {
				t.Errorf("%s, %s: status %d, out %q, err %q", kind, format, status, out, err)
			}
		}
	}
}

func TestFitUsedWrongly(t *testing.T) {
	for _, args := range [][]string{
		{"frame"}, {"pallet", "-"}, {"frame", "-", "--format", "xml"}, {"frame", "-", "--tolerance", "3 kg"},
		{"frame", "-", "--tolerance", "0"}, {"frame", "-", "--touch-error", "-1"}, {"frame", "-", "--name", "my bath"}, {"frame", "/nowhere/at/all.csv"},
	} {
		if status, out, err := fit(threeTouches, args...); status != 2 || out != "" || err == "" {
			t.Errorf("%v: status %d, out %q, err %q", args, status, out, err)
		}
	}
}
