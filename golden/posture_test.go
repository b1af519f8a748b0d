package golden

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Families whose programs say how the arm stands; seen from the demo plans.
const knuckles, stance = "../families/knuckles", "../families/stance"

// swingLine takes the readings out of a motion of the knuckles; slideLine the pose and the readings.
var (
	swingLine = regexp.MustCompile(`^swing (.*) at `)
	slideLine = regexp.MustCompile(`^slide (.*) to (.*) at `)
)

// TestReadingsOfAProgram follows a program of joint readings: they are those of the move
// list, and from them the tool stands where the line says, reckoned here by plane geometry.
func TestReadingsOfAProgram(t *testing.T) {
	t.Chdir(demoFolder)
	for plan, tcp := range map[string]func(j []float64) [3]float64{"mortar-cubes": benchTCP, "two-cartons": twinTCP} {
		want := readingsOf(t, plan+".plan.yaml")
		moved := 0
		for line := range strings.Lines(mustRun(t, "write", plan+".plan.yaml", "--family", knuckles, "-o", "-")) {
			var pose, joints []float64
			if m := swingLine.FindStringSubmatch(line); m != nil {
				joints = numbers(t, m[1])
			} else if m := slideLine.FindStringSubmatch(line); m != nil {
				pose, joints = numbers(t, m[1]), numbers(t, m[2])
			} else {
				continue
			}
			if moved >= len(want) || len(joints) != len(want[moved]) {
				t.Fatalf("%s: motion %d has %d readings: %s", plan, moved+1, len(joints), line)
			}
			for i, w := range want[moved] {
				if math.Abs(joints[i]-w) > 0.0005001 { // 3 decimals of what slides, 4 of what turns
					t.Errorf("%s: motion %d, joint %d is %g, wanted %g", plan, moved+1, i+1, joints[i], w)
				}
			}
			for i, at := range tcp(joints) {
				if pose != nil && math.Abs(at-pose[i]) > 0.004 { // half a ten-thousandth of a degree in some joints, 0.8 m away
					// of the twin tool the right zone is a tool of its own, 300 mm further
					if plan != "two-cartons" || i != 0 || math.Abs(at+300-pose[i]) > 0.004 {
						t.Errorf("%s: motion %d leads to %v, the line says %v", plan, moved+1, tcp(joints), pose)
					}
				}
			}
			moved++
		}
		if moved != len(want) || moved < 30 {
			t.Errorf("%s: %d motions, wanted %d", plan, moved, len(want))
		}
	}
}

// readingsOf are the readings of every motion in a plan's list.
func readingsOf(t *testing.T, plan string) (all [][]float64) {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(mustRun(t, "moves", plan, "--format", "csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	first := slices.Index(rows[0], "j1")
	after := slices.Index(rows[0], "configuration")
	for _, row := range rows[1:] {
		if row[3] == "travel" || row[3] == "straight" {
			all = append(all, numbers(t, strings.Join(row[first:after], " ")))
		}
	}
	return all
}

func numbers(t *testing.T, text string) (all []float64) {
	t.Helper()
	for _, word := range strings.Fields(text) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, v)
	}
	return all
}

func sinCos(degrees float64) (sin, cos float64) { return math.Sincos(degrees * math.Pi / 180) }

// benchTCP is where the jaw of testdata/demo/bench.cell.yaml is while axis 4 is at 0: then the arm lies in
// one upright plane, which axis 1 turns.
func benchTCP(j []float64) [3]float64 {
	s2, c2 := sinCos(j[1])
	s3, c3 := sinCos(j[1] + j[2])
	s5, c5 := sinCos(j[1] + j[2] + j[4])
	r := 70 + 390*s2 + 40*s3 + 410*c3 + (85+132)*c5
	s1, c1 := sinCos(j[0])
	return [3]float64{r * c1, r * s1, 345 + 390*c2 + 40*c3 - 410*s3 - (85+132)*s5}
}

// twinTCP is where the left zone of testdata/demo/twin.cell.yaml is, whose flange always looks down and is never turned
// there: two arms that turn in a level plane, and a slide.
func twinTCP(j []float64) [3]float64 {
	s1, c1 := sinCos(j[0])
	s2, c2 := sinCos(j[0] + j[1])
	return [3]float64{680*c1 + 590*c2 - 150, 680*s1 + 590*s2, 500 + j[2] - 180}
}

// TestPosturesAreReadBack: a joint that stands otherwise by a hundredth of a degree or of a mm, or by a whole
// turn, another word of the configuration and another quarter turn are other programs.
func TestPosturesAreReadBack(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: many programs are read")
	}
	t.Chdir(demoFolder)
	for _, c := range []struct{ family, plan, old, changed, told string }{
		{knuckles, "mortar-cubes", "", "", "moves are as planned"},
		{knuckles, "mortar-cubes", "swing -54.4730 30.2252", "swing -54.4830 30.2252", "joint1 is -54.4830"},
		{knuckles, "mortar-cubes", "to -54.4730 39.5589 27.4122", "to -54.4730 39.5589 27.4222", "joint3 is 27.4222"},
		{knuckles, "mortar-cubes", "71.6152 180.0000 at", "71.6152 -180.0000 at", "joint6 is -180.0000"},
		{knuckles, "two-cartons", "", "", "moves are as planned"},
		{knuckles, "two-cartons", "80.5314 60.000 9.1923 at", "80.5314 60.010 9.1923 at", "joint3 is 60.0100 mm"},
		{knuckles, "two-cartons", "80.5314 60.000 9.1923 at", "80.5314 60.000 at", "1 missing; 1 other line"},
		{stance, "mortar-cubes", "", "", "moves are as planned"},
		{stance, "mortar-cubes", "in bath, front up up, quarters -1 0 0 0 0 1 # tray A1\n", "in bath, back up up, quarters -1 0 0 0 0 1 # tray A1\n", "shoulder"},
		{stance, "mortar-cubes", "in bath, front up up, quarters -1 0 0 0 0 1 # tray A1\n", "in bath, front down up, quarters -1 0 0 0 0 1 # tray A1\n", "elbow"},
		{stance, "mortar-cubes", "in bath, front up up, quarters -1 0 0 0 0 1 # tray A1\n", "in bath, front up down, quarters -1 0 0 0 0 1 # tray A1\n", "wrist"},
		{stance, "mortar-cubes", "in bath, front up up, quarters -1 0 0 0 0 1 # tray A1\n", "in bath, front up up, quarters -1 0 0 0 0 -3 # tray A1\n", "quarter6 is -3"},
	} {
		text := mustRun(t, "write", c.plan+".plan.yaml", "--family", c.family, "-o", "-")
		changed := strings.Replace(text, c.old, c.changed, 1)
		if c.old != "" && changed == text {
			t.Errorf("%s: there is no %q", c.plan, c.old)
			continue
		}
		file := filepath.Join(t.TempDir(), "p")
		if err := os.WriteFile(file, []byte(changed), 0o644); err != nil {
			t.Fatal(err)
		}
		want := 1
		if c.old == "" {
			want = 0
		}
		if r := run("verify", file, "--plan", c.plan+".plan.yaml", "--family", c.family); r.status != want || !strings.Contains(r.stdout, c.told) {
			t.Errorf("%s with %q: status %d, wanted %d and %q:\n%s%s", c.plan, c.changed, r.status, want, c.told, r.stdout, r.stderr)
		}
	}
}

// TestPosturesNeedAnArm: a family that writes how the arm stands writes nothing where nobody knows.
func TestPosturesNeedAnArm(t *testing.T) {
	t.Chdir(demoFolder)
	for _, c := range []struct{ family, plan, at, told string }{
		{knuckles, "cartons", "yard.cell.yaml:1:1", "the cell does not say what the arm is [arm-needed]"},
		{stance, "cartons", "yard.cell.yaml:1:1", "the cell does not say what the arm is [arm-needed]"},
		{stance, "two-cartons", "twin.cell.yaml:14:3", "an arm of this kind has no words for it [arm-needed]"},
	} {
		r := run("write", c.plan+".plan.yaml", "--family", c.family, "-o", "-")
		if r.status != 1 || r.stdout != "" || !strings.HasPrefix(r.stderr, c.at+": error: ") || !strings.Contains(r.stderr, c.told) || strings.Count(r.stderr, "error") != 1 {
			t.Errorf("%s as %s: status %d, wanted 1 and one finding at %s:\n%s%s", c.plan, c.family, r.status, c.at, r.stdout, r.stderr)
		}
	}
}

// axisOf takes apart how a demo cell gives a joint's direction.
var axisOf = regexp.MustCompile(`\{name: (J\d), (axis|slides): \[(-?\d), (-?\d), (-?\d)\]`)

// TestSignsOfTheDemoArms: from the three readings in its cell the arm's joint that turns or slides the
// other way round is named, whichever it is.
func TestSignsOfTheDemoArms(t *testing.T) {
	t.Chdir(demoFolder)
	for cell, joints := range map[string]int{"bench": 6, "coating": 6, "twin": 4} {
		data, err := os.ReadFile(cell + ".cell.yaml")
		if err != nil {
			t.Fatal(err)
		}
		found := axisOf.FindAllStringSubmatch(string(data), -1)
		if len(found) != joints {
			t.Errorf("%s: %d joints, wanted %d", cell, len(found), joints)
		}
		for _, m := range found {
			turned := strings.NewReplacer("--", "", "-0", "0").Replace("{name: " + m[1] + ", " + m[2] + ": [-" + m[3] + ", -" + m[4] + ", -" + m[5] + "]")
			file := filepath.Join(t.TempDir(), "turned.cell.yaml")
			if err := os.WriteFile(file, []byte(strings.Replace(string(data), m[0], turned, 1)), 0o644); err != nil {
				t.Fatal(err)
			}
			want := `the sign of "` + m[1] + `" is the other way round: write its "` + m[2] + `" as [` + m[3] + ", " + m[4] + ", " + m[5] + "]"
			r := run("arm", file)
			if r.status != 1 || !strings.Contains(r.stderr, want) || strings.Count(r.stderr, "error:") != 1 || strings.Contains(r.stderr, "e-") {
				t.Errorf("%s: status %d, wanted 1 and one finding with %q:\n%s", cell, r.status, want, r.stderr)
			}
		}
	}
}
