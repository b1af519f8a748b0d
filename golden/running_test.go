package golden

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

var pageCommands = regexp.MustCompile("(?s)```sh\n(.*?)```")

// TestRunningPage runs the commands of plan/RUNNING.md: first runs and rests as
// they stand there, comparisons with programs made for them, and the file of slots.
func TestRunningPage(t *testing.T) {
	page, err := os.ReadFile("../plan/RUNNING.md")
	if err != nil {
		t.Fatal(err)
	}
	rewrittenPlan := ""
	func() {
		t.Chdir(demoFolder)
		rewrittenPlan = rewritten(t, "tube-rack.plan.yaml", "near: 40", "near: 30")
	}()
	folder := strings.TrimSuffix(rewrittenPlan, "tube-rack.plan.yaml")
	t.Chdir(folder)
	lastWeek, err := os.ReadFile("tube-rack.plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	made := map[string]string{
		"last-week.plan.yaml": string(lastWeek), "tube-rack.plan.yaml": strings.Replace(string(lastWeek), "near: 30", "near: 40", 1),
	}
	for name, text := range made {
		keepAs(t, name, text)
	}
	for name, family := range map[string]string{"shop-floor.nc": "iso6983", "monday.nc": "iso6983", "friday.nc": "iso6983", "one.st": "st", "two.nc": "iso6983"} {
		keepAs(t, name, mustRun(t, "write", "tube-rack.plan.yaml", "--family", family, "-o", "-"))
	}
	commands := 0
	for _, block := range pageCommands.FindAllStringSubmatch(string(page), -1) {
		for line := range strings.Lines(block[1]) {
			commands++
			args := shellWords(line)
			wanted := 0
			if strings.Contains(line, "last-week") {
				wanted = 1
			}
			if r := run(args[1:]...); r.status != wanted {
				t.Errorf("%sstatus %d, wanted %d\n%s", line, r.status, wanted, r.stderr)
			}
		}
	}
	if commands < 8 {
		t.Errorf("only %d commands were run", commands)
	}
	slots := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindStringSubmatch(string(page))
	keepAs(t, "found.yaml", slots[1])
	// The example took two parts and the whole dense rack away: that is told.
	if r := run("check", "tube-rack.plan.yaml", "--from", "14", "--slots=found.yaml"); r.status != 1 || !strings.Contains(r.stderr, "part-unaccounted") {
		t.Errorf("status %d\n%s", r.status, r.stderr)
	}
	compareFound(t)
	for _, flag := range regexp.MustCompile("`(--[a-z-]+)").FindAllStringSubmatch(string(page), -1) {
		if r := run("write", "--help"); !strings.Contains(r.stdout, flag[1]) && flag[1] != "--plan" && flag[1] != "--format" {
			t.Errorf("\"write\" has no flag %s", flag[1])
		}
	}
}

// compareFound hands what was found to a comparison, too, where both sides are held to it.
func compareFound(t *testing.T) {
	keepAs(t, "right.yaml", "format: gridferry slots 1\nfilled: {open: 'F2:H2, A3:H6'}\n")
	for _, tt := range []struct {
		slots  string
		status int
		want   string
	}{
		{"right.yaml", 0, "resume-state"},
		{"found.yaml", 1, "part-unaccounted"},
		{"-", 2, "standard input can be read only once"},
	} {
		r := run("compare", "tube-rack.plan.yaml", "tube-rack.plan.yaml", "--from", "14", "--slots="+tt.slots)
		if r.status != tt.status || !strings.Contains(r.stderr, tt.want) {
			t.Errorf("compare with --slots=%s: status %d\n%s%s", tt.slots, r.status, r.stdout, r.stderr)
		}
	}
}

func keepAs(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}
