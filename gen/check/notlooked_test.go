package check

import (
	"slices"
	"strings"
	"testing"

	"gridferry/gen/manual"
)

// TestNotLookedAt takes what the cell says away and adds it again: a part of the line
// goes as the cell says more, and for no other reason.
func TestNotLookedAt(t *testing.T) {
	always := []string{"fingers (no tool body)", "joints (no arm)", "paths of travels (joint paths need an arm)"}
	without := func(more ...string) []string { return append(slices.Clone(always), more...) }
	const tool, room, moment = "width of the tool (no radius of jaw)", "room of parts (no size of block)", "moment on the flange (no machine.moment)"
	narrow := strings.NewReplacer("mass: 0.8\n", "mass: 0.8\n      radius: 40\n")
	bounded := strings.NewReplacer("    speed: 1000\n", "    speed: 1000\n    moment: 6\n")
	shapeless := strings.NewReplacer("block: {mass: 0.15, size: [30, 30, 30]}", "block: {mass: 0.15}")
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"the example", manual.ExamplePlan, without(tool, moment)},
		{"with a radius", narrow.Replace(manual.ExamplePlan), without(moment)},
		{"with a moment", bounded.Replace(manual.ExamplePlan), without(tool)},
		{"with both", narrow.Replace(bounded.Replace(manual.ExamplePlan)), always},
		{"without a size", shapeless.Replace(manual.ExamplePlan), without(tool, room, moment)},
	} {
		if got := NotLookedAt(layoutOf(t, c.text)); !slices.Equal(got, c.want) {
			t.Errorf("%s: not looked at: %q, wanted %q", c.name, got, c.want)
		}
	}
}
