package goldens

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// A comparison that cannot fail proves nothing.

func TestProveRefuses(t *testing.T) {
	sound := Files{"a.txt": "x 1.000\ny -0.001 -0.5 X-0.5 P-00\n"}
	if faults := Prove(sound, sound, '.'); faults != nil {
		t.Errorf("a sound text is refused: %v", faults)
	}
	for _, text := range []string{
		"x <no value>\n", "x NaN\n", "x +Inf\n", "x %!d(string=a)\n", "x -0.000\n", "X-0 Y1\n", "x,-0,1\n", "no end", "",
	} {
		bad := Files{"a.txt": text}
		if Prove(bad, bad, '.') == nil {
			t.Errorf("%q is taken as fit to be recorded", text)
		}
	}
	for text, fit := range map[string]bool{"x -0,5; -0,001\n": true, "x -0,000\n": false, "x -0\n": false, "-0; 1\n": false, "x -0.5\n": false} {
		comma := Files{"a.txt": text}
		if (Prove(comma, comma, ',') == nil) != fit {
			t.Errorf("with decimal commas, %q is fit to be recorded: %v", text, !fit)
		}
	}
	if Prove(Files{"a.txt": "1\n"}, Files{"a.txt": "2\n"}, '.') == nil {
		t.Error("two runs that differ are taken as fit to be recorded")
	}
	if Prove(Files{"a.txt": "1\n"}, Files{"a.txt": "1\n", "b.txt": "1\n"}, '.') == nil {
		t.Error("a file that only one of two runs gives is taken as fit to be recorded")
	}
}

func TestDifferences(t *testing.T) {
	want := Files{"same": "1\n", "changed": "1\n2\n3\n", "gone": "1\n"}
	got := Files{"same": "1\n", "changed": "1\n2\n4\n", "extra": "1\n"}
	found := Differences(want, got, "how")
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
	old := Files{}
	for _, now := range []Files{{"a": "1\n", "b": "2\n"}, {"b": "3\n", "c": "4\n"}} {
		if err := now.Record(folder, old); err != nil {
			t.Fatal(err)
		}
		got, err := Read(folder)
		if err != nil || Differences(now, got, "") != nil {
			t.Errorf("recorded %v, read back %v, %v", now, got, err)
		}
		old = now
	}
	if err := (Files{"c": "4\n"}).Record(folder, nil); err != nil {
		t.Fatal(err)
	}
	if got, err := Read(folder); err != nil || Differences(old, got, "") != nil {
		t.Errorf("what is not named as old is not as it was: %v, %v", got, err)
	}
}

func TestDiffsAreHarmless(t *testing.T) {
	found := Differences(Files{"a\n\x1b": "x\x1b[31m\r\n"}, Files{"a\n\x1b": "x\n"}, "")
	if len(found) != 1 || !strings.HasPrefix(found[0], `a\x0a\x1b: first differs at line 1`) {
		t.Fatalf("%q", found)
	}
	if shown := diag.Diff(found[0], false); strings.ContainsAny(shown, "\x1b\r") || !strings.Contains(shown, "-x\\x1b[31m\\x0d\n+x\n") {
		t.Errorf("%q", shown)
	}
}

// TestOnlyTheEndsOfLinesDiffer: a diff would show nothing that people see.
func TestOnlyTheEndsOfLinesDiffer(t *testing.T) {
	found := Differences(Files{"a": "x\ny\r\nz\r\n"}, Files{"a": "x\ny\nz\n"}, "")
	if len(found) != 1 || !strings.HasPrefix(found[0], "a: only the ends of lines differ, from line 2 on") {
		t.Errorf("%q", found)
	}
}

func TestFindCases(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"b/case.yaml":      "format: gridferry case 1\nplan: ../plans/p.plan.yaml\nfamily: iso6983\nset: [grids.a.rows=2]\nmissing: [a B3]\n",
		"a/deep/case.yaml": "format: gridferry case 1\nplan: p.plan.yaml\nfamily: ../../my-family\n",
		"c/case.yaml":      "format: gridferry case 1\nplan: p.plan.yaml\nfamilly: st\n",
		"d/other.yaml":     "x: y\n",
		"e/case.yaml":      "format: gridferry case 1\nplan: p.plan.yaml\nfamily: st\nset: [grids]\nfilled: [a]\n",

		"a/deep/p.plan.yaml": "x: y\n", "plans/p.plan.yaml": "x: y\n", "my-family/family.yaml": "x: y\n",
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var list diag.List
	cases, err := Find(".", &list, new(diag.Sources))
	if err != nil || len(cases) != 2 {
		t.Fatalf("%v, %v", cases, err)
	}
	for i, want := range []struct{ folder, plan, family, set string }{
		{"a/deep", "a/deep/p.plan.yaml", "./my-family", ""},
		{"b", "plans/p.plan.yaml", "iso6983", "grids.a.rows: 2, a: B3, "},
	} {
		c := cases[i]
		source, family, ok := c.Open(&list, new(diag.Sources))
		set := ""
		for _, s := range c.Settings {
			set += s.Path + ": " + s.Value + ", "
		}
		if !ok || source.File != want.plan || string(source.Data) != "x: y\n" || family != filepath.FromSlash(want.family) || set != want.set || c.Expected() != filepath.FromSlash(want.folder+"/expected") {
			t.Errorf("%+v: %+v, %q, %v", c, source, family, ok)
		}
	}
	var rules []string
	for _, f := range list.Sorted() {
		rules = append(rules, f.Place.String()+" "+f.Rule)
	}
	if got := strings.Join(rules, ", "); got != "c/case.yaml:3:1 unknown-key, e/case.yaml:4:7 bad-setting, e/case.yaml:5:10 bad-setting" {
		t.Errorf("findings: %s", got)
	}
	if _, err := Find("d", new(diag.List), new(diag.Sources)); err == nil {
		t.Error("a folder without a case is taken")
	}
}

// The files of a case are read as long as all of them are within the bound.
func TestMostRecorded(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"a", "b"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte("12345"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := read(folder, 10); err != nil || got["a"] != "12345" || got["b"] != "12345" {
		t.Errorf("got %v, %v", got, err)
	}
	if got, err := read(folder, 9); got != nil || err == nil || !strings.Contains(err.Error(), `up to "b" its files have more than`) {
		t.Errorf("got %v, %v", got, err)
	}
}
