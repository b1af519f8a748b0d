package check_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/layout"
	"gridferry/golden/corpus"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// What people are shown first has no finding, not even a warning: a rule that
// speaks up there is too eager, or the example is wrong.

// wantSound checks a plan file; missing limits may be said.
func wantSound(t *testing.T, file string) {
	t.Helper()
	source, err := plan.Open(file, strings.NewReader(""))
	if err != nil {
		t.Fatal(err)
	}
	var list diag.List
	var sources diag.Sources
	l := layout.Resolve(plan.Read(source, nil, &list, &sources), layout.Options{}, &list)
	if !list.HasErrors() {
		check.Run(l, listed(l), &list)
	}
	for _, f := range list.Sorted() {
		t.Errorf("%s: %s: %s [%s]", f.Place, f.Severity, f.Message, f.Rule)
	}
}

func TestDemoPlansAreSound(t *testing.T) {
	for _, p := range corpus.Plans(t, "../../testdata/demo") {
		t.Run(filepath.Base(p), func(t *testing.T) { wantSound(t, p) })
	}
}

func TestStarterIsSound(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, plan.Starter()); err != nil {
		t.Fatal(err)
	}
	wantSound(t, filepath.Join(dir, plan.StarterPlan))
}

// TestFormatPageIsSound takes the cell and the plan out of the page that says
// their format.
func TestFormatPageIsSound(t *testing.T) {
	page, err := os.ReadFile("../../plan/FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindAllStringSubmatch(string(page), -1)
	first := func(begin string) string {
		for _, b := range blocks {
			if strings.HasPrefix(b[1], begin) {
				return b[1]
			}
		}
		t.Fatalf("the page has no block that begins with %q", begin)
		return ""
	}
	dir := t.TempDir()
	write(t, filepath.Join(dir, "bench.cell.yaml"), first("format: "+plan.CellFormat))
	write(t, filepath.Join(dir, "cubes.plan.yaml"), first("format: "+plan.Format))
	wantSound(t, filepath.Join(dir, "cubes.plan.yaml"))
}

func write(t *testing.T, file, text string) {
	t.Helper()
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}
