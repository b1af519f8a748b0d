package check_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// findings takes a plan through the real reader, the resolver and the rules.
func findings(t *testing.T, text string) []diag.Finding {
	t.Helper()
	var list diag.List
	if l := resolve(text, &list); l != nil && !list.HasErrors() {
		check.Run(l, listed(l), &list)
	}
	return list.Sorted()
}

// listed is the whole list, with the readings of the joints where the cell has an arm.
func listed(l *layout.Layout) move.Batches {
	moves := expand.Batches(l, expand.Whole)
	if l.Arm == nil {
		return moves
	}
	return joints.Choose(l, moves).Fill(moves)
}

func resolve(text string, list *diag.List) *layout.Layout {
	var sources diag.Sources
	p := plan.Read(plan.Source{File: "example.plan.yaml", Data: []byte(text), Dir: "."}, nil, list, &sources)
	if p == nil {
		return nil
	}
	return layout.Resolve(p, layout.Options{}, list)
}

func TestExamplePlanIsSound(t *testing.T) {
	for _, f := range findings(t, manual.ExamplePlan) {
		t.Errorf("%s: %s [%s]", f.Place, f.Message, f.Rule)
	}
}

func TestEveryRuleShowsItself(t *testing.T) {
	for _, f := range check.Pages() {
		t.Run(f.Name, func(t *testing.T) { checkExamples(t, f) })
	}
}

func checkExamples(t *testing.T, f manual.Page) {
	if f.Doc == "" || f.Do == "" || f.Severity == 0 {
		t.Error("the finding has no doc, no advice or no severity")
	}
	if f.Unshown != "" {
		return // TestGuards sees to those
	}
	if f.Bad == f.Good {
		t.Error("the bad example is the good one")
	}
	bad := findings(t, planOf(t, f.Bad))
	if len(bad) == 0 {
		t.Error("the bad example has no finding")
	}
	for _, got := range bad {
		if got.Rule != f.Name || got.Severity != f.Severity {
			t.Errorf("the bad example also has %s: %s: %s [%s]", got.Place, got.Severity, got.Message, got.Rule)
		}
		if got.Place.Line == 0 {
			t.Errorf("the finding has no line: %s", got.Message)
		}
	}
	for _, got := range findings(t, planOf(t, f.Good)) {
		t.Errorf("the good example has %s: %s [%s]", got.Place, got.Message, got.Rule)
	}
}

// page is the page of a finding.
func page(t *testing.T, name string) manual.Page {
	t.Helper()
	all := check.Pages()
	i := slices.IndexFunc(all, func(p manual.Page) bool { return p.Name == name })
	if i < 0 {
		t.Fatalf("there is no finding %q", name)
	}
	return all[i]
}

func planOf(t *testing.T, e manual.Example) string {
	t.Helper()
	text, err := e.Plan()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestNamesAreWordsAndUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range check.Pages() {
		if seen[f.Name] || strings.Trim(f.Name, "abcdefghijklmnopqrstuvwxyz-") != "" {
			t.Errorf("the name %q is not kebab-case or stands twice", f.Name)
		}
		seen[f.Name] = true
	}
}

// TestPiecesAreNotKept: whatever the pieces are in which a list comes, and though each
// is spoiled when the next is asked for, every bad example has the same findings.
func TestPiecesAreNotKept(t *testing.T) {
	compared := 0
	for _, f := range check.Pages() {
		var single, spoiled diag.List
		l := resolve(planOf(t, f.Bad), &single)
		if f.Unshown != "" || l == nil || single.HasErrors() {
			continue
		}
		check.Run(l, listed(l), &single)
		check.Run(l, inSpoiledPieces(move.Single(listed(l)), 1+compared%5), &spoiled)
		if got, want := fmt.Sprint(spoiled.Sorted()), fmt.Sprint(single.Sorted()); got != want {
			t.Errorf("%s: found %s, wanted %s", f.Name, got, want)
		}
		compared++
	}
	if compared < 20 {
		t.Errorf("only %d examples were compared", compared)
	}
}

// inSpoiledPieces is a list in pieces of n moves, each overwritten after its use.
func inSpoiledPieces(moves move.Seq, n int) move.Batches {
	return func(yield func([]move.Move) bool) {
		all := slices.Collect(moves)
		for piece := range slices.Chunk(all, n) {
			if !yield(piece) {
				return
			}
			for i := range piece {
				piece[i] = move.Move{N: -1, Transfer: -1, Target: move.Target{Grid: "spoiled"}, Text: "spoiled", FlyBy: 1e6}
			}
		}
	}
}
