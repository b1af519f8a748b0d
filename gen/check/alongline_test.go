package check_test

import (
	"slices"
	"strings"
	"testing"
)

// A joint that is near the end of its range at a slot is a warning there. That the line to the slot cannot be gone
// is an error, and has to be said all the same.
func TestWarningsHideNoErrors(t *testing.T) {
	for error, end := range map[string]string{"straight-not-possible": "3", "joint-too-fast": "26"} { // near which J1 stands there
		text := planOf(t, page(t, error).Bad)
		near := strings.Replace(text, "range: [-170, 170]", "range: [-170, "+end+"]", 1)
		if near == text {
			t.Fatal("the example has another range now")
		}
		var rules []string
		for _, f := range findings(t, near) {
			rules = append(rules, f.Rule)
		}
		for _, want := range []string{error, "joint-near-end"} {
			if !slices.Contains(rules, want) {
				t.Errorf("%q is not among %q", want, rules)
			}
		}
	}
}

// A pose is given by readings of another turn than a line leads to: J6 turns from -100 by 40 degrees, and not on to 300. No range
// ends on that way.
func TestAnotherTurnIsNoEndOfARange(t *testing.T) {
	text := strings.NewReplacer(
		"  poses:\n", "  poses:\n    near: {joints: [0, 0, 0, 0, 90, -100]}\n    round: {joints: [0, 0, 0, 0, 90, 300]}\n",
		"fly_by: 10\n", "fly_by: 0\n", "transfers:\n", "begin: [{go: near}, {line: round}]\ntransfers:\n",
	).Replace(planOf(t, page(t, "joint-near-end").Good))
	const want = `on the straight line to "round", the arm arrives with other readings of its joints than those with which it goes on`
	if found := findings(t, text); len(found) != 1 || found[0].Message != want {
		t.Errorf("found %v, wanted %s", found, want)
	}
}
