package golden

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// The harness itself: a comparison that cannot fail proves nothing.

func TestBadCaseHarnessNoticesWhatIsMissing(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	text := "format: x # want 9 \"bad-format: x\" 3 `other-rule: .*`\n# set a.b=1 # want 2 \"set-path: p\"\n# write st\ny: z # warn \"w: m\"\n# want-file \"f: g\"\n"
	if err := os.WriteFile("p.plan.yaml", []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	c := readBad(t, "p.plan.yaml")
	var got []string
	for _, w := range c.wants {
		got = append(got, w.String())
	}
	want := []string{
		"p.plan.yaml:1:9: error bad-format: x", "p.plan.yaml:1:3: error other-rule: .*", "--set[1]:1:2: error set-path: p",
		"p.plan.yaml:4:0: warning w: m", "p.plan.yaml:0:0: error f: g",
	}
	if !slices.Equal(got, want) {
		t.Errorf("expectations\n%s\nwanted\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if !slices.Equal(c.sets, []string{"a.b=1"}) || c.family != "st" {
		t.Errorf("settings %q, family %q", c.sets, c.family)
	}
	for f, meets := range map[finding]bool{
		{File: "p.plan.yaml", Line: 1, Column: 8, Severity: "error", Rule: "bad-format", Message: "x"}:   false,
		{File: "p.plan.yaml", Line: 1, Column: 9, Severity: "warning", Rule: "bad-format", Message: "x"}: false,
		{File: "p.plan.yaml", Line: 1, Column: 9, Severity: "error", Rule: "bad-formats", Message: "x"}:  false,
		{File: "p.plan.yaml", Line: 1, Column: 9, Severity: "error", Rule: "bad-format", Message: "y"}:   false,
		{File: "p.plan.yaml", Line: 2, Column: 9, Severity: "error", Rule: "bad-format", Message: "x"}:   false,
	} {
		if c.meets(f) != meets {
			t.Errorf("%+v meets an expectation", f)
		}
	}
	if !c.meets(finding{File: "p.plan.yaml", Line: 1, Column: 9, Severity: "error", Rule: "bad-format", Message: "a x"}) {
		t.Error("the finding that is wanted meets nothing")
	}
}
