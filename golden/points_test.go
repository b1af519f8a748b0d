package golden

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const waymarks = "../families/waymarks" // seen from the demo plans

var (
	markLine = regexp.MustCompile(`^mark ([a-z0-9_]+) is (.*) turned (.*) in (\S+) # (.*)$`)
	goLine   = regexp.MustCompile(`^(?:walk|creep) to (\S+) at`)
)

// TestPointsOfAProgram follows the table of points by hand: every motion of the list,
// in order, goes to the coordinates that the name in its line stands for, and no two
// entries of the table have one name or one pose.
func TestPointsOfAProgram(t *testing.T) {
	t.Chdir(demoFolder)
	for _, plan := range []string{"mortar-cubes.plan.yaml", "tube-rack.plan.yaml", "cartons.plan.yaml"} {
		rows, err := csv.NewReader(strings.NewReader(mustRun(t, "moves", plan, "--format", "csv"))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var want []string // targets of the motions
		for _, row := range rows[1:] {
			if row[3] == "travel" || row[3] == "straight" {
				want = append(want, row[4])
			}
		}
		labels, poses := map[string]string{}, map[string]bool{}
		moved := 0
		for line := range strings.Lines(mustRun(t, "write", plan, "--family", waymarks, "-o", "-")) {
			line = strings.TrimRight(line, "\n")
			if m := markLine.FindStringSubmatch(line); m != nil {
				if len(m[1]) > 12 || labels[m[1]] != "" || poses[m[5]] {
					t.Errorf("%s: %q stands for %q and %q", plan, m[1], labels[m[1]], m[5])
				}
				labels[m[1]], poses[m[5]] = m[5], true
			}
			if m := goLine.FindStringSubmatch(line); m != nil {
				if moved >= len(want) || labels[m[1]] != want[moved] {
					t.Fatalf("%s: motion %d goes to %q, which is %q", plan, moved+1, m[1], labels[m[1]])
				}
				moved++
			}
		}
		if moved != len(want) || moved == 0 {
			t.Errorf("%s: %d motions, wanted %d", plan, moved, len(want))
		}
	}
}

// TestPointsAreReadBack: a point with another figure, and one that is missing, show at
// the motions that go there.
func TestPointsAreReadBack(t *testing.T) {
	t.Chdir(demoFolder)
	text := mustRun(t, "write", "mortar-cubes.plan.yaml", "--family", waymarks, "-o", "-")
	verified := func(text string) result {
		file := filepath.Join(t.TempDir(), "cubes.way")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return run("verify", file, "--plan", "mortar-cubes.plan.yaml", "--family", waymarks)
	}
	if r := verified(text); r.status != 0 {
		t.Fatalf("as it was written: %s", r.stdout)
	}
	old := "mark tray_a2 is 105.000"
	if r := verified(strings.Replace(text, old, "mark tray_a2 is 106.000", 1)); r.status != 1 || !strings.Contains(r.stdout, "tray A2") || !strings.Contains(r.stdout, "x is 106.0000 mm") {
		t.Errorf("status %d for a point that lies otherwise:\n%s", r.status, r.stdout)
	}
	if r := verified(strings.Replace(text, old, "# mark tray_a2 is 105.000", 1)); r.status != 1 {
		t.Errorf("status %d for a point that is missing:\n%s", r.status, r.stdout)
	}
}
