package check

import (
	"testing"

	"gridferry/gen/expand"
	"gridferry/plan/diag"
)

// As many looks as a pass may have give its findings; with one less it is refused, and
// what it found after that does not count.
func TestTooCrowded(t *testing.T) {
	l := layoutOf(t, crowded)
	run := func(most int) (findings []diag.Finding, made int) {
		var list diag.List
		c := newContext(l, &list)
		c.most = most
		c.watch(expand.Batches(l, expand.Whole), c.eyes())
		return list.Sorted(), c.effort.made
	}
	all, made := run(effortFor(l))
	if made < 100 || len(all) == 0 {
		t.Fatalf("%d looks and %d findings are too few to tell", made, len(all))
	}
	if again, _ := run(made); len(again) != len(all) {
		t.Errorf("with %d looks there are %d findings, wanted %d", made, len(again), len(all))
	}
	less, _ := run(made - 1)
	refused := 0
	for _, f := range less {
		if f.Rule == "too-crowded" && f.Severity == diag.Error && !f.Place.IsZero() {
			refused++
		}
	}
	if refused != 1 {
		t.Errorf("with %d looks: %v", made-1, less)
	}
	none, _ := run(0)
	if len(none) != 1 || none[0].Rule != "too-crowded" {
		t.Errorf("without a look: %v", none)
	}
}
