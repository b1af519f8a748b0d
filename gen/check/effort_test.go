package check

import (
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/joints"
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

// The ways of an arm take many more looks than those of a tool alone, and as many as they need: a sound plan over dense plates
// with links and a wall may be as long as it likes.
func TestArmsAreNotTooCrowded(t *testing.T) {
	text, err := linked.Plan()
	if err != nil {
		t.Fatal(err)
	}
	l := layoutOf(t, strings.NewReplacer(
		"size: [30, 30, 30]", "size: [2, 2, 20]", "rows: 2, columns: 3, pitch: [50, 60]", "rows: 12, columns: 12, pitch: [3, 3]",
		"  keep_out: {}\n", "  keep_out: {wall: {from: [-200, -600, 0], to: [-150, 600, 500]}}\n", "      mass: 0.8\n", "      mass: 0.8\n      radius: 4\n",
		`{from: "tray A1:A3", to: "rack A1:A3"}`, "{from: tray, to: rack}", `  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}`+"\n", "",
	).Replace(text))
	moves := expand.Batches(l, expand.Whole)
	var list diag.List
	c := newContext(l, &list)
	c.watch(joints.Choose(l, moves).Fill(moves), c.eyes())
	each := c.effort.made / l.Transfers()
	if list.HasErrors() || l.Transfers() != 144 || each < effortPerTransfer || each > effortPerSwing/2 {
		t.Errorf("%d looks for each of %d transfers, where %d are allowed: %v", each, l.Transfers(), effortPerSwing, list.Sorted())
	}
	t.Logf("%d looks a transfer", each)
}
