package check

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/joints"
	"gridferry/plan/diag"
)

// A check that has no looks left seeks poses as closely as any other: where parts hang about the way, none of them is passed over.
func TestSeekingHasLooksOfItsOwn(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: it seeks twice")
	}
	t.Parallel()
	text, err := (anArm() + "-  keep_out: {}\n+  keep_out: {lamp: {from: [300, -60, 180], to: [360, -40, 260]}}\n").Plan()
	if err != nil {
		t.Fatal(err)
	}
	l := layoutOf(t, strings.NewReplacer(
		"parts:\n", "parts:\n  nut: {mass: 0.1, size: [20, 20, 20]}\n",
		"  tray: {", "  shelf: {frame: base, rows: 12, columns: 12, pitch: [60, 60], first: [200, -330, 300], part: nut, filled: all}\n  tray: {",
		`{from: "tray A1:A3", to: "rack A1:A3"}`, `{from: "tray A1", to: "rack A1"}`, `  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}`+"\n", "",
	).Replace(text))
	moves := expand.Batches(l, expand.Whole)
	moves = joints.Choose(l, moves).Fill(moves)
	seek := func(most int) (found string, made int) {
		c := newContext(l, new(diag.List))
		c.most, c.seeks = most, true
		for _, b := range c.run(moves, nil) {
			found += fmt.Sprintln(b.From, b.To, b.Tried, b.Between)
		}
		return found, c.effort.made
	}
	want, made := seek(effortFor(l))
	if got, _ := seek(made); got != want || !strings.Contains(got, "clear") {
		t.Errorf("with %d looks, as many as the check takes, these are found:\n%s\nwith more:\n%s", made, got, want)
	}
}
