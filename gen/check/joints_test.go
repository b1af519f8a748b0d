package check_test

import (
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
	"gridferry/plan/diag"
)

// Where a family gets straight lines in place of travels, a change of configuration on one of them is an error: along
// a line the arm cannot change.
func TestConfigurationChangesOnNoLine(t *testing.T) {
	var read, found diag.List
	l := resolve(planOf(t, page(t, "configuration-changes").Bad), &read)
	if read.HasErrors() {
		t.Fatal(read.Sorted())
	}
	lines := proveout.Lines(move.Single(listed(l)))
	check.Run(l, move.Batched(lines), &found)
	seen := map[string]bool{}
	for _, f := range found.Sorted() {
		seen[f.Rule] = true
	}
	if !seen["configuration-not-possible"] || seen["configuration-changes"] {
		t.Errorf("found %v, wanted configuration-not-possible and no mere change", seen)
	}
}
