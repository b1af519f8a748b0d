package golden

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const badFolder = "../testdata/bad"

// finding is a finding as "--format json" gives it.
type finding struct {
	File                          string
	Line, Column                  int
	Severity, Rule, Message, Hint string
}

func TestBadPlans(t *testing.T) {
	t.Chdir(badFolder)
	plans := badPlans(t)
	if len(plans) < 60 {
		t.Fatalf("there are %d bad plans, wanted 60 or more: is the folder right?", len(plans))
	}
	for _, plan := range plans {
		t.Run(plan, func(t *testing.T) { checkBad(t, readBad(t, plan)) })
	}
}

// badPlans is the bad plans of the present folder.
func badPlans(t *testing.T) []string {
	t.Helper()
	var plans []string
	for _, pattern := range []string{"*.plan.yaml", "*.plan.json"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, found...)
	}
	slices.Sort(plans)
	return plans
}

// checkBad holds the findings to exactly those that are wanted.
func checkBad(t *testing.T, c *badCase) {
	if len(c.wants) == 0 {
		t.Fatal("the plan says nothing about what must be found")
	}
	found, status := c.findings(t)
	for _, f := range found {
		if !c.meets(f) {
			t.Errorf("unexpected finding %s:%d:%d: %s: %s [%s]", f.File, f.Line, f.Column, f.Severity, f.Message, f.Rule)
		}
		checkWording(t, f)
	}
	wantStatus := 0
	for _, w := range c.wants {
		if !w.met {
			t.Errorf("not found: %s", w)
		}
		if w.severity == "error" {
			wantStatus = 1
		}
	}
	if status != wantStatus {
		t.Errorf("exit status %d, wanted %d", status, wantStatus)
	}
}

func (c *badCase) meets(f finding) bool {
	for _, w := range c.wants {
		if !w.met && w.file == f.File && w.line == f.Line && (w.col == 0 || w.col == f.Column) &&
			w.severity == f.Severity && w.rule == f.Rule && w.message.MatchString(f.Message) {
			w.met = true
			return true
		}
	}
	return false
}

// checkWording holds a message to the rules at the top of plan/diag/print.go,
// as far as a machine can.
func checkWording(t *testing.T, f finding) {
	if f.Message == "" || f.Rule == "" {
		t.Errorf("a finding without a message or a rule: %+v", f)
	}
	for _, text := range []string{f.Message, f.Hint} {
		if strings.HasSuffix(text, ".") || strings.Contains(text, "\n") || strings.Contains(text, "%!") {
			t.Errorf("not one line without a full stop: %q", text)
		}
		if text != "" && text[0] >= 'A' && text[0] <= 'Z' {
			t.Errorf("does not begin in lower case: %q", text)
		}
	}
}

// command is the command line that shows the findings.
func (c *badCase) command(format string) []string {
	args := []string{"check", c.plan, "--format", format}
	if c.family != "" {
		args = []string{"write", c.plan, "--family", c.family, "-o", "-", "--format", format}
	}
	for _, s := range c.sets {
		args = append(args, "--set", s)
	}
	return args
}

// ran is what the bad plans gave, and together what all of them gave in each form: several tests look at it.
var ran, together = map[string]result{}, map[string]result{}

// checkedTogether is what "check" says of the present folder, which is that of the bad plans.
func checkedTogether(format string) result {
	r, ok := together[format]
	if !ok {
		r = run("check", ".", "--format", format)
		together[format] = r
	}
	return r
}

func (c *badCase) findings(t *testing.T) ([]finding, int) {
	r, ok := ran[c.plan]
	if !ok {
		r = run(c.command("json")...)
		ran[c.plan] = r
	}
	data := r.stdout
	if c.family != "" {
		data = r.stderr // standard output is for the program
		if r.status != 0 && r.stdout != "" {
			t.Errorf("a program came out beside the errors: %q", r.stdout)
		}
	}
	var found []finding
	if err := json.Unmarshal([]byte(data), &found); err != nil {
		t.Fatalf("the findings are not JSON: %v\n%s", err, data)
	}
	return found, r.status
}
