package gen

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// folder makes files in a new folder, which the test then is in; "a -> b" is a link.
func folder(t *testing.T, names ...string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for _, name := range names {
		name, to, link := strings.Cut(name, " -> ")
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		err := os.WriteFile(name, nil, 0o666)
		if link {
			os.Remove(name)
			err = os.Symlink(to, name)
		}
		if err != nil && link {
			outside.Missing(t, err)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func wantPlans(t *testing.T, want []string, names ...string) {
	t.Helper()
	got, err := PlanFiles(names)
	for i := range got {
		got[i] = filepath.ToSlash(got[i])
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%q: %q, %v, wanted %q", names, got, err, want)
	}
}

func TestPlanFiles(t *testing.T) {
	folder(t, "b.plan.yaml", "a/z.plan.yml", "a/y.plan.json", "a/b/x.plan.yaml", "a/x.cell.yaml", "plan.yaml", ".git/p.plan.yaml",
		"a/.cache/p.plan.yaml", "node_modules/m/p.plan.yaml", "a/.hidden.plan.yaml", "odd.txt", ".hooks/q.plan.yaml")
	all := []string{"a/b/x.plan.yaml", "a/y.plan.json", "a/z.plan.yml", "b.plan.yaml"}
	for _, name := range []string{"./...", ".", "..."} {
		wantPlans(t, all, name)
	}
	wantPlans(t, all[:3], "a/...")
	wantPlans(t, all[:3], "a")
	wantPlans(t, []string{"b.plan.yaml", "a/b/x.plan.yaml", "a/y.plan.json", "a/z.plan.yml"}, "b.plan.yaml", ".", "a", "./b.plan.yaml")
	wantPlans(t, []string{"odd.txt"}, "odd.txt")           // what is named is a plan
	wantPlans(t, []string{".hooks/q.plan.yaml"}, ".hooks") // and a folder that is named is looked at
	for _, name := range []string{"none", "none/...", "none.plan.yaml"} {
		if got, err := PlanFiles([]string{name}); err == nil {
			t.Errorf("%s: %q without an error", name, got)
		}
	}
}

// TestPlanFilesThroughLinks: a plan is taken once, by the name of the place where it lies.
func TestPlanFilesThroughLinks(t *testing.T) {
	folder(t, "top/a -> z", "top/z/p.plan.yaml", "top/z/up -> ..", "top/z/self -> .", "top/root -> /", "top/k.plan.yaml -> z/p.plan.yaml",
		"top/out -> ../else", "else/q.plan.yaml", "else/back -> ../top", "top/b.plan.yaml -> nowhere", "top/gone -> nowhere", "door -> top", "top/.lock.plan.yaml -> nowhere")
	want := []string{"top/b.plan.yaml", "top/out/q.plan.yaml", "top/z/p.plan.yaml"}
	wantPlans(t, want, "top")
	wantPlans(t, want, "top/...", "top", "door")
	wantPlans(t, []string{"door/b.plan.yaml", "door/out/q.plan.yaml", "door/z/p.plan.yaml"}, "door")
}

func TestSideBySide(t *testing.T) {
	const n = 1000
	next := 0
	for got := range SideBySide(n, func(i int) int {
		for range i % 7 {
			runtime.Gosched()
		}
		return i * i
	}) {
		if got != next*next {
			t.Fatalf("result %d is %d", next, got)
		}
		next++
	}
	if next != n {
		t.Errorf("%d results, wanted %d", next, n)
	}
	for range SideBySide(n, func(i int) int { return i }) {
		break // and nothing waits for ever
	}
	for range SideBySide(0, func(i int) int { return i }) {
		t.Error("a result of nothing")
	}
}
