package check_test

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/golden/simulate"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestAcceptedPlansEndAsTheSimulatorSays: a random plan is accepted exactly
// when an independent simulator can carry it out, and then the slots end as
// the simulator and "check --slots" say.
func TestAcceptedPlansEndAsTheSimulatorSays(t *testing.T) {
	t.Parallel()
	ends := map[string]int{}
	folder := t.TempDir()
	for seed := range simulate.Plans(t) {
		text := simulate.DrawCalm(seed)
		var list diag.List
		l, job := played(t, text.Source(t, folder), &list)
		slots := new(check.Slots)
		if !list.HasErrors() {
			slots = check.NewSlots(l)
			check.Run(l, expand.Batches(l, expand.Whole), &list, slots)
		}
		wrong := cmp.Or(job.Refused, job.Wrong)
		if list.HasErrors() != (wrong != "") || wrong != "" && !slices.ContainsFunc(list.Sorted(), func(f diag.Finding) bool { return f.Rule == wrong }) {
			t.Fatalf("plan %d: the simulator says %q, the check says %v\n%s", seed, wrong, errorsOf(&list), text)
		}
		ends[wrong]++
		if !list.HasErrors() {
			compare(t, "check --slots", occupied(slots), job.End, text)
		}
	}
	t.Logf("ends of plans: %v", ends)
	if simulate.Plans(t) < 2000 {
		return // a handful of plans need not be varied
	}
	for _, rule := range []string{"", "count-mismatch", "pick-from-empty", "part-above", "place-on-full", "no-support"} {
		if ends[rule] == 0 {
			t.Errorf("no random plan ended with %q (%v)", rule, ends)
		}
	}
}

// played resolves a plan, and plays it.
func played(t *testing.T, source plan.Source, list *diag.List) (*layout.Layout, *simulate.Job) {
	p := plan.Read(source, nil, list, new(diag.Sources))
	if list.HasErrors() {
		t.Fatalf("cannot be read: %v\n%s", errorsOf(list), source.Data)
	}
	return layout.Resolve(p, layout.Options{}, list), simulate.Play(p)
}

// compare holds the slots in which a part stands to the simulator's.
func compare[T any](t *testing.T, who string, got map[string]T, want map[string]string, text any) {
	t.Helper()
	if g, w := slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)); !slices.Equal(g, w) {
		t.Fatalf("%s ends with %v, the simulator with %v\n%s", who, g, w, text)
	}
}

func errorsOf(list *diag.List) []string {
	var all []string
	for _, f := range list.Sorted() {
		if f.Severity == diag.Error {
			all = append(all, fmt.Sprintf("%s: %s", f.Place, f.Message))
		}
	}
	return all
}

// occupied is the end as the slots that were watched have it.
func occupied(s *check.Slots) map[string]bool {
	now := map[string]bool{}
	for _, g := range s.Grids {
		for i := range g.Size() {
			if g.After.Has(i) {
				now[g.Name+" "+g.Label(g.Slot(i))] = true
			}
		}
	}
	return now
}
