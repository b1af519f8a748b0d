package cli_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"gridferry/cmd/cli"
)

const (
	cubes     = "../../testdata/demo/mortar-cubes.plan.yaml"
	scattered = "../../testdata/order/scattered.plan.yaml"
)

// change is a line of the sensitivity table as JSON has it.
type change struct {
	What string
	Less float64 `json:"ten_percent_less"`
	More float64 `json:"ten_percent_more"`
	Note string
}

func changes(t *testing.T, args ...string) (seconds float64, by map[string]change) {
	t.Helper()
	r := gridferry("", append([]string{"time", "--format", "json"}, args...)...)
	var data struct {
		Estimate bool
		Seconds  float64
		Changes  []change
	}
	if err := json.Unmarshal([]byte(r.out), &data); err != nil || r.status != 0 || !data.Estimate {
		t.Fatalf("status %d, %v\n%s%s", r.status, err, r.out, r.err)
	}
	by = map[string]change{}
	for _, c := range data.Changes {
		by[c.What] = c
	}
	return data.Seconds, by
}

// What a change would do has the right sign, and settling is a plain sum: 46
// grips of 0.4 s and 47 releases of 0.3 s, of which ten per cent are 3.25 s.
func TestTimeOfChanges(t *testing.T) {
	seconds, by := changes(t, cubes)
	for _, faster := range []string{"speed", "acceleration"} {
		if c := by[faster]; !(c.Less > 0 && c.More < 0 && c.Less > -c.More) {
			t.Errorf("%s: %+v, wanted slower with less and quicker with more", faster, c)
		}
	}
	for _, slower := range []string{"settle", "approach"} {
		if c := by[slower]; !(c.Less < 0 && c.More > 0) {
			t.Errorf("%s: %+v, wanted quicker with less and slower with more", slower, c)
		}
	}
	if c := by["settle"]; c.More != 3.25 || c.Less != -3.25 {
		t.Errorf("settle: %+v, wanted 3.25 s either way", c)
	}
	quicker, _ := changes(t, cubes, "--set", "motion.speed.travel=550", "--set", "motion.speed.near=88")
	if d := quicker - seconds - by["speed"].More; d > 0.0015 || d < -0.0015 {
		t.Errorf("10 %% more speed is said to add %g s, but the plan changed so takes %g s more", by["speed"].More, quicker-seconds)
	}
	higher, _ := changes(t, cubes, "--set", "motion.approach=77")
	if d := higher - seconds - by["approach"].More; d > 0.0015 || d < -0.0015 {
		t.Errorf("10 %% more approach is said to add %g s, but the plan changed so takes %g s more", by["approach"].More, higher-seconds)
	}
}

// A cell without an acceleration is timed at constant speed, and says so.
func TestTimeWithoutAcceleration(t *testing.T) {
	r := gridferry("", "time", "../../testdata/order/chain-by-part.plan.yaml")
	if r.status != 0 || !strings.Contains(r.out, `does not say "machine.acceleration"`) {
		t.Errorf("status %d\n%s%s", r.status, r.out, r.err)
	}
}

func TestTimeAsCSV(t *testing.T) {
	r := gridferry("", "time", cubes, "--format", "csv")
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	if err != nil || len(rows) != 47 || rows[46][0] != "46" || rows[46][5] != "rack" {
		t.Errorf("%d lines (%v): %s", len(rows), err, r.out)
	}
}

// Parts that are carried at once have one line, which says how many they are: transfers count on
// behind them. Two cartons at once are 2, 2 and 1, and three rows of eight tubes 8 each.
func TestTimeOfGroupsAsCSV(t *testing.T) {
	for plan, want := range map[string][][2]string{"two-cartons": {{"1", "2"}, {"3", "2"}, {"5", "1"}}, "tube-comb": {{"1", "8"}, {"9", "8"}, {"17", "8"}}} {
		r := gridferry("", "time", "../../testdata/demo/"+plan+".plan.yaml", "--format", "csv")
		rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
		if err != nil || len(rows) != len(want)+1 || rows[0][12] != "parts" {
			t.Fatalf("%s: %v\n%s%s", plan, err, r.out, r.err)
		}
		for i, w := range want {
			if got := [2]string{rows[i+1][0], rows[i+1][12]}; got != w {
				t.Errorf("%s, line %d: transfer and parts are %q, wanted %q", plan, i+2, got, w)
			}
		}
	}
}

func TestOrderCommand(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: orders are searched")
	}
	r := gridferry("", "order", scattered)
	if r.status != 0 || !strings.Contains(r.out, "transfers:\n  - from: \"rack ") || !strings.Contains(r.out, "saves 76.") {
		t.Errorf("status %d\n%s%s", r.status, r.out, r.err)
	}
	r = gridferry("", "order", "--quickest", scattered)
	if r.status != 0 || !strings.Contains(r.out, "transfers:\n  - from: \"rack ") || !strings.Contains(r.out, "#   quickest ") || !strings.Contains(r.out, " s in the order below") {
		t.Errorf("status %d\n%s%s", r.status, r.out, r.err)
	}
	r = gridferry("", "order", "--quickest", "--format", "json", scattered)
	if r.status != 0 || !strings.Contains(r.out, "\"quickest\": {") || strings.Contains(r.out, "\"shortest\"") {
		t.Errorf("status %d\n%s%s", r.status, r.out, r.err)
	}
	r = gridferry("", "order", cubes)
	if r.status != 0 || !strings.Contains(r.out, "No improvement found") {
		t.Errorf("status %d\n%s%s", r.status, r.out, r.err)
	}
}

func TestTimeAndOrderMisused(t *testing.T) {
	for _, args := range [][]string{{"time"}, {"time", cubes, "--format", "xml"}, {"order"}, {"order", cubes, "--format", "csv"}, {"time", "nowhere.yaml"}} {
		if r := gridferry("", args...); r.status != 2 || r.out != "" {
			t.Errorf("%v: status %d, wanted 2: %s", args, r.status, r.out)
		}
	}
	var errs bytes.Buffer
	for _, args := range [][]string{{"time", cubes}, {"time", cubes, "--format", "csv"}, {"time", cubes, "--format", "json"}, {"order", cubes}, {"order", cubes, "--format", "json"}} {
		if status := cli.Main(args, strings.NewReader(""), full{}, &errs); status != 1 {
			t.Errorf("%v into a full disk: status %d, wanted 1", args, status)
		}
	}
}
