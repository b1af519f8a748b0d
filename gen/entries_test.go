package gen

import (
	"context"
	"path/filepath"
	"testing"

	"gridferry/gen/layout"
	"gridferry/gen/timing"
	"gridferry/golden/corpus"
	"gridferry/plan"
)

// TestEntries: what entries make adds up, with what lies outside of them, to what "time" says of the whole job.
func TestEntries(t *testing.T) {
	for _, file := range corpus.Plans(t, filepath.Join("..", "testdata", "demo")) {
		source, err := plan.Open(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		j := new(Job)
		if !j.Read(source, nil, layout.Options{Slots: layout.DefaultSlots}) {
			t.Fatal(j.Findings.Sorted())
		}
		made, report := j.entries(context.Background()), j.Time(nil)
		if len(made) != 1+len(j.Layout.Entries) || made[0].Lasts != report.Clock() || made[0].Moves != report.Moves || made[0].Transfers != report.Transfers {
			t.Errorf("%s: %+v, wanted %s", file, made, report.Clock())
		}
		for i, e := range j.Layout.Entries {
			if m := made[1+i]; m.Place != e.Place || m.Transfers != e.Transfers() || m.Lasts == "" {
				t.Errorf("%s: %+v, wanted it at %v", file, m, e.Place)
			}
		}
	}
}

// TestEntriesOfEachEntry: every move inside of an entry counts for it, and none twice.
func TestEntriesOfEachEntry(t *testing.T) {
	source, err := plan.Open(filepath.Join("..", "testdata", "demo", "two-jaws.plan.yaml"), nil)
	if err != nil {
		t.Fatal(err)
	}
	j := new(Job)
	j.Read(source, nil, layout.Options{Slots: layout.DefaultSlots})
	entry := func(transfer int) int { _, i := j.Layout.EntryOf(transfer); return i }
	whole, each := timing.Entries(j.Batches(), timing.Machine{}, len(j.Layout.Entries), entry)
	counted := make([]int, len(each))
	moves := 0
	for m := range j.Moves() {
		if moves++; m.Transfer > 0 {
			counted[entry(m.Transfer)]++
		}
	}
	if whole.Moves != moves || len(each) < 2 {
		t.Errorf("%d moves in %d entries, wanted %d", whole.Moves, len(each), moves)
	}
	for i := range each {
		if each[i].Moves != counted[i] || each[i].Seconds <= 0 || each[i].Seconds >= whole.Seconds {
			t.Errorf("entry %d: %+v, wanted %d moves", i+1, each[i], counted[i])
		}
	}
}

// TestEntriesStops: who asks may lose interest.
func TestEntriesStops(t *testing.T) {
	source, err := plan.Open(filepath.Join("..", "testdata", "demo", "two-jaws.plan.yaml"), nil)
	if err != nil {
		t.Fatal(err)
	}
	j := new(Job)
	j.Read(source, nil, layout.Options{Slots: layout.DefaultSlots})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if made := j.entries(ctx); made != nil {
		t.Errorf("%+v", made)
	}
}
