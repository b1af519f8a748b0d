// Package corpus gives the demo plans to the tests of every package.
package corpus

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// long is the plan that makes more moves than all others together.
const long = "dense-plate.plan.yaml"

// few are the plans that stand for all with -short: short ones, as unlike each other as they can be.
var few = []string{"cartons", "crates-below", "lids", "panels", "rotor", "two-jaws", "whole-bench"}

// Long tells whether a plan is so long that what holds it takes seconds.
func Long(plan string) bool { return strings.HasSuffix(plan, long) }

// All are the demo plans in a folder.
func All(t testing.TB, folder string) []string {
	t.Helper()
	plans, err := filepath.Glob(filepath.Join(folder, "*.plan.yaml"))
	if err != nil || len(plans) < 6 {
		t.Fatalf("there are %d demo plans in %q (%v), wanted 6 or more", len(plans), folder, err)
	}
	return plans
}

// Plans are All, with -short a few of them.
func Plans(t testing.TB, folder string) []string {
	t.Helper()
	plans := All(t, folder)
	if testing.Short() {
		plans = slices.DeleteFunc(plans, func(plan string) bool {
			return !slices.Contains(few, strings.TrimSuffix(filepath.Base(plan), ".plan.yaml"))
		})
		if len(plans) != len(few) {
			t.Fatalf("of the %d plans that stand for all only %q are there", len(few), plans)
		}
	}
	return plans
}
