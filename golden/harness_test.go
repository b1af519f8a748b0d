package golden

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// The harness itself: a comparison that cannot fail proves nothing.

func TestProveRefuses(t *testing.T) {
	sound := files{"a.txt": "x 1.000\ny -0.001 -0.5 X-0.5 P-00\n"}
	if faults := prove(sound, sound); faults != nil {
		t.Errorf("a sound text is refused: %v", faults)
	}
	for _, text := range []string{
		"x <no value>\n", "x NaN\n", "x +Inf\n", "x %!d(string=a)\n", "x -0.000\n", "X-0 Y1\n", "x,-0,1\n", "no end", "",
	} {
		bad := files{"a.txt": text}
		if prove(bad, bad) == nil {
			t.Errorf("%q is taken as fit to be recorded", text)
		}
	}
	if prove(files{"a.txt": "1\n"}, files{"a.txt": "2\n"}) == nil {
		t.Error("two runs that differ are taken as fit to be recorded")
	}
	if prove(files{"a.txt": "1\n"}, files{"a.txt": "1\n", "b.txt": "1\n"}) == nil {
		t.Error("a file that only one of two runs gives is taken as fit to be recorded")
	}
}

func TestDifferences(t *testing.T) {
	want := files{"same": "1\n", "changed": "1\n2\n3\n", "gone": "1\n"}
	got := files{"same": "1\n", "changed": "1\n2\n4\n", "extra": "1\n"}
	found := differences(want, got)
	for i, part := range []string{"changed: first differs at line 3", "extra: comes out", "gone: recorded"} {
		if i >= len(found) || !strings.HasPrefix(found[i], part) {
			t.Errorf("difference %d of %q does not begin with %q", i, found, part)
		}
	}
	if len(found) != 3 || !strings.Contains(found[0], "-3\n+4\n") {
		t.Errorf("wanted three differences with a real diff, got %q", found)
	}
}

func TestRecordLeavesNothingStale(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "case")
	for _, now := range []files{{"a": "1\n", "b": "2\n"}, {"b": "3\n", "c": "4\n"}} {
		if err := record(folder, now); err != nil {
			t.Fatal(err)
		}
		got, err := readFiles(folder)
		if err != nil || differences(now, got) != nil {
			t.Errorf("recorded %v, read back %v, %v", now, got, err)
		}
	}
}

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
