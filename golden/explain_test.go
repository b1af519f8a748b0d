package golden

import (
	"fmt"
	"strings"
	"testing"
)

// asked is what people may ask explain, each with what is kept of the answer.
var asked = map[string][]string{
	"whole":             {"first.plan.yaml"},
	"entry":             {"first.plan.yaml", "--plan-line", "33"},
	"goal-of-an-entry":  {"first.plan.yaml", "--plan-line", "34"},
	"pitch":             {"first.plan.yaml", "--plan-line", "13"},
	"remark":            {"first.plan.yaml", "--plan-line", "4"},
	"frame":             {"first.plan.yaml", "--cell-line", "26"},
	"limit":             {"first.plan.yaml", "--cell-line", "9"},
	"program-line":      {"first.plan.yaml", "--program-line", "33"},
	"head-of-a-program": {"first.plan.yaml", "--program-line", "1"},
	"word-address":      {"first.plan.yaml", "--family", "iso6983", "--program-line", "60"},
	"loops":             {"first.plan.yaml", "--family", "loops"},
	"as-data":           {"first.plan.yaml", "--program-line", "33", "--format", "json"},
}

// TestExplainAsPeopleReadIt keeps answers about the starter plan, for reading.
func TestExplainAsPeopleReadIt(t *testing.T) {
	recorded := absolute(t, "explain")
	inLesson(t)
	hold(t, recorded, func() files {
		got := files{}
		for name, args := range asked {
			r := run(append([]string{"explain"}, args...)...)
			got[name+".txt"] = fmt.Sprintf("$ gridferry explain %s\n%s", strings.Join(args, " "), r.stdout)
		}
		return got
	})
}

func TestExplainRefuses(t *testing.T) {
	inLesson(t)
	for want, args := range map[string][]string{
		"which has 35 lines":                 {"first.plan.yaml", "--plan-line", "1000"},
		"no line 9999 in the program":        {"first.plan.yaml", "--program-line", "9999"},
		"no line 9998 in the program":        {"first.plan.yaml", "--program-line", "9998", "--format", "json"},
		"--plan-line is 0, wanted 1 or more": {"first.plan.yaml", "--plan-line", "0"},
		"wanted one of text, json, html":     {"first.plan.yaml", "--format", "pdf"},
		"wanted one family":                  {"first.plan.yaml", "--family", "all"},
		"cannot be used together":            {"first.plan.yaml", "--plan-line", "3", "--cell-line", "3"},
	} {
		if r := run(append([]string{"explain"}, args...)...); r.status != 2 || !strings.Contains(r.stderr, want) {
			t.Errorf("explain %s: status %d, wanted 2 and %q\n%s", strings.Join(args, " "), r.status, want, r.stderr)
		}
	}
}
