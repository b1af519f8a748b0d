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
