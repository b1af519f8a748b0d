package golden

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen/goldens"
)

const slipway = "../families/slipway" // seen from the demo plans

// familyFiles is what a plan gives through a family in a folder of its own,
// every file of it.
func familyFiles(t *testing.T, plan, family string) files {
	t.Helper()
	folder := t.TempDir()
	mustRun(t, "write", plan, "--family", family, "-o", folder)
	got, err := goldens.Read(folder)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// TestMadeUpController holds what comes out through a family of awkward rules:
// one job that fits one file, one that does not.
func TestMadeUpController(t *testing.T) {
	recorded := absolute(t, "families")
	t.Chdir(demoFolder)
	for _, name := range []string{"tube-rack", "mortar-cubes"} {
		t.Run(name, func(t *testing.T) {
			hold(t, filepath.Join(recorded, "slipway", name), func() files { return familyFiles(t, name+".plan.yaml", slipway) })
		})
	}
	t.Run("waymarks", func(t *testing.T) {
		hold(t, filepath.Join(recorded, "waymarks"), func() files { return familyFiles(t, "cartons.plan.yaml", "../families/waymarks") })
	})
	for _, name := range []string{"mortar-cubes", "two-cartons"} { // six joints, and four of which one slides
		t.Run("knuckles "+name, func(t *testing.T) {
			hold(t, filepath.Join(recorded, "knuckles", name), func() files { return familyFiles(t, name+".plan.yaml", knuckles) })
		})
	}
	t.Run("stance", func(t *testing.T) {
		hold(t, filepath.Join(recorded, "stance"), func() files { return familyFiles(t, "mortar-cubes.plan.yaml", stance) })
	})
	t.Run("lanterns", func(t *testing.T) {
		hold(t, filepath.Join(recorded, "lanterns"), func() files { return familyFiles(t, "cartons.plan.yaml", lanterns) })
	})
}

// TestMadeUpControllerIsSmall: a controller that asks for all of this should
// cost an evening, not a month.
func TestMadeUpControllerIsSmall(t *testing.T) {
	lines := 0
	for _, name := range []string{"family.yaml", "program.tmpl"} {
		data, err := os.ReadFile(filepath.Join("../testdata/families/slipway", name))
		if err != nil {
			t.Fatal(err)
		}
		lines += strings.Count(string(data), "\n")
	}
	if lines >= 120 {
		t.Errorf("the family has %d lines, wanted fewer than 120", lines)
	}
}

// slipwayLine is every line that the controller reads, written down here from
// its rules and not from the family: comments, or a block number and a command.
var slipwayLine = regexp.MustCompile(`^(;[A-Z0-9.,:=()+/_ -]*|FINIS|[0-9]{4} (SCROLL|LEAF|SUMMON) [A-Z][A-Z0-9]{0,7}|[0-9]{4} (` +
	`MOOR [A-Z][A-Z0-9]{0,7} [A-Z][A-Z0-9]{0,7} [+-]\d{3}\.\d{2}|STAND( [+-]\d{3}\.\d{4}){3}|LEAN( [+-]\d{3}\.\d{2}){3}|` +
	`(DRIFT|TOW) [+-]\d{3}\.\d{2} BY [+-]\d{3}\.\d{4}|(CLASP|UNCLASP|FLAG) \d+ (ON|OFF)|HARK \d+ (ON|OFF)( [+-]\d+ (STRAND|SAIL))?|IDLE [+-]\d+|LAYBY))$`)

func TestMadeUpControllerReadsEveryLine(t *testing.T) {
	t.Chdir(demoFolder)
	for _, plan := range []string{"tube-rack.plan.yaml", "mortar-cubes.plan.yaml", "cartons.plan.yaml"} {
		for name, text := range familyFiles(t, plan, slipway) {
			if !regexp.MustCompile(`^[A-Z][A-Z0-9]{0,7}\.SLW$`).MatchString(name) {
				t.Errorf("%s: %q is no file name of eight capitals and three", plan, name)
			}
			lines := strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n")
			if len(lines) > 500 {
				t.Errorf("%s: %s has %d lines", plan, name, len(lines))
			}
			for i, line := range lines {
				if len(line) > 60 || !slipwayLine.MatchString(line) {
					t.Errorf("%s: %s:%d: the controller does not read %q", plan, name, i+1, line)
				}
			}
		}
	}
}

// TestMadeUpControllerMoves follows the main text through its parts and finds
// the positions, speeds and waits of the move list: 25.4 mm to the inch, 1000
// ms to the second, reckoned here.
func TestMadeUpControllerMoves(t *testing.T) {
	t.Chdir(demoFolder)
	for _, plan := range []string{"tube-rack.plan.yaml", "mortar-cubes.plan.yaml"} {
		got := followSlipway(t, familyFiles(t, plan, slipway))
		rows, err := csv.NewReader(strings.NewReader(mustRun(t, "moves", plan, "--format", "csv"))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		want := slipwayWants(rows)
		if len(got) != len(want) {
			t.Fatalf("%s: %d figures come out, wanted %d", plan, len(got), len(want))
		}
		for i := range want {
			if got[i].word != want[i].word || !want[i].allows(got[i].value) {
				t.Errorf("%s: figure %d is %v, wanted %v", plan, i, got[i], want[i])
				break
			}
		}
	}
}

// slipwayFigure is a figure in mm, mm/s or s.
type slipwayFigure struct {
	word          string
	value, within float64
}

// allows tells whether a figure stands for the value: a speed is never above it, and by
// less than one of the family's digits below.
func (f slipwayFigure) allows(got float64) bool {
	if f.word == "DRIFT" || f.word == "TOW" {
		return got <= f.value+1e-9 && got > f.value-25.4*0.01
	}
	return math.Abs(got-f.value) <= f.within
}

// followSlipway runs the main text, the one that no other text calls.
func followSlipway(t *testing.T, texts files) []slipwayFigure {
	t.Helper()
	leaves, main := map[string]string{}, ""
	for _, text := range texts {
		if m := regexp.MustCompile(`(?m)^0001 LEAF (\w+)\r$`).FindStringSubmatch(text); m != nil {
			leaves[m[1]] = text
		} else {
			main = text
		}
	}
	for _, m := range regexp.MustCompile(`(?m)^\d{4} SUMMON (\w+)\r\n`).FindAllStringSubmatch(main, -1) {
		if leaves[m[1]] == "" {
			t.Fatalf("no part is called %q", m[1])
		}
		main = strings.Replace(main, m[0], leaves[m[1]], 1)
		delete(leaves, m[1])
	}
	if len(leaves) > 0 {
		t.Errorf("parts that nothing calls: %d", len(leaves))
	}
	return slipwayFigures(main)
}

func slipwayFigures(text string) []slipwayFigure {
	var out []slipwayFigure
	for _, line := range strings.Split(text, "\r\n") {
		words := strings.Fields(line)
		if len(words) < 3 || line[0] == ';' {
			continue
		}
		number := func(i int) float64 { v, _ := strconv.ParseFloat(words[i], 64); return v }
		switch words[1] {
		case "STAND":
			for i := 2; i < 5; i++ {
				out = append(out, slipwayFigure{word: "place", value: number(i) * 25.4})
			}
		case "DRIFT", "TOW":
			out = append(out, slipwayFigure{word: words[1], value: number(2) * 25.4})
		case "IDLE":
			out = append(out, slipwayFigure{word: words[1], value: number(2) / 1000})
		}
	}
	return out
}

// slipwayWants is the same from the move list.
func slipwayWants(rows [][]string) []slipwayFigure {
	var out []slipwayFigure
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for _, row := range rows[1:] {
		number := func(name string) float64 { v, _ := strconv.ParseFloat(row[column[name]], 64); return v }
		switch action := row[column["action"]]; action {
		case "travel", "straight":
			for _, axis := range []string{"x", "y", "z"} {
				out = append(out, slipwayFigure{"place", number(axis), 25.4 * 0.00005001})
			}
			out = append(out, slipwayFigure{map[string]string{"travel": "DRIFT", "straight": "TOW"}[action], number("speed"), 0})
		case "dwell":
			out = append(out, slipwayFigure{"IDLE", number("seconds"), 0.0005001})
		}
	}
	return out
}
