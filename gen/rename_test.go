package gen_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/golden/corpus"
	"gridferry/golden/simulate"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/names"
)

// renamed is a name that no plan has.
const renamed = "Ümlaut-9"

// told is all that a plan comes to: its findings, and so many of its moves.
func told(t *testing.T, source plan.Source) string {
	t.Helper()
	j := new(gen.Job)
	var b strings.Builder
	if j.Read(source, nil, layout.Options{Slots: layout.DefaultSlots}) {
		const most = 3000
		first := func(yield func([]move.Move) bool) {
			n := 0
			for piece := range expand.Batches(j.Layout, expand.Whole) {
				if n += len(piece); !yield(piece) || n > most {
					return
				}
			}
		}
		if err := move.WriteJSONL(&b, 0, first); err != nil {
			t.Fatal(err)
		}
	}
	for _, f := range j.Findings.Sorted() {
		fmt.Fprintln(&b, f.Rule, f.Place.File, f.Place.Line, f.Message)
	}
	return b.String()
}

// rewritten is a source with some of its files edited, from the last edit on back.
func rewritten(t *testing.T, source plan.Source, edits []names.Edit) plan.Source {
	t.Helper()
	texts := map[string]string{source.File: string(source.Data)}
	for _, e := range slices.Backward(edits) {
		at := e.Place
		if _, opened := texts[at.File]; !opened {
			text, err := os.ReadFile(at.File)
			if err != nil {
				t.Fatal(err)
			}
			texts[at.File] = string(text)
		}
		lines := strings.SplitAfter(texts[at.File], "\n")
		line := []rune(lines[at.Line-1])
		lines[at.Line-1] = string(line[:at.Col-1]) + e.Text + string(line[at.Col-1+at.Width:])
		texts[at.File] = strings.Join(lines, "")
	}
	source.Data = []byte(texts[source.File])
	source.Read = func(n plan.Named) ([]byte, error) {
		if text, edited := texts[n.File]; edited {
			return []byte(text), nil
		}
		return n.Read()
	}
	return source
}

// renameAll gives every name of a plan another one, and holds the plan to what it was.
func renameAll(t *testing.T, source plan.Source) (count int) {
	t.Helper()
	before := told(t, source)
	x := names.Of(source)
	all := map[names.Name]bool{}
	for _, u := range x.Defined() {
		all[u.Name] = true
	}
	for n := range maps.Keys(all) {
		edits, err := x.Rename(n, renamed)
		if err != nil {
			t.Errorf("%s: the %s %q: %v", source.File, n.What(), n.Text, err)
			continue
		}
		after := told(t, rewritten(t, source, edits))
		if got := strings.ReplaceAll(after, renamed, n.Text); got != before {
			t.Errorf("%s: with another name for the %s %q, at %v:\n%s", source.File, n.What(), n.Text, edits, difference(before, got))
		}
		count++
	}
	return count
}

func difference(a, b string) string {
	x, y := diag.SplitLines(a), diag.SplitLines(b)
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return "before " + x[i] + "\nafter  " + y[i]
		}
	}
	return fmt.Sprintf("%d lines before, %d after", len(x), len(y))
}

// TestRenamingChangesNothingElse: with another name for any one thing, a plan makes the same moves and has the same findings.
func TestRenamingChangesNothingElse(t *testing.T) {
	t.Parallel()
	count := 0
	for _, file := range corpus.Plans(t, filepath.Join("..", "testdata", "demo")) {
		source, err := plan.Open(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		count += renameAll(t, source)
	}
	if count < 100 {
		t.Errorf("only %d names were changed", count)
	}
}

// TestRenamingInRandomPlans is the same of random ones; GRIDFERRY_PLANS=8000 takes a hundred.
func TestRenamingInRandomPlans(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: the demos stand for them")
	}
	t.Parallel()
	count := 0
	for seed := range simulate.Plans(t) / 80 {
		count += renameAll(t, simulate.Draw(seed).Source(t, t.TempDir()))
	}
	if count < 100 {
		t.Errorf("only %d names were changed", count)
	}
}
