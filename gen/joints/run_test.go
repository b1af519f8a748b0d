package joints

import (
	"math/rand/v2"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/layout"
)

// Against every choice of configurations: no other has fewer changes, an entry is not divided without need,
// and what is chosen serves.
func TestRunsAgainstAllChoices(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2))
	b := &bench{layout: &layout.Layout{Arm: &layout.Arm{}}}
	for range 5_000 {
		var spans []span
		entry, masks := 0, []mask{1, 2, 3, 4, 5, 6, 7}
		for i := range 1 + r.IntN(7) {
			if r.IntN(3) == 0 {
				entry++
			}
			spans = append(spans, span{first: 1 + 10*i, entry: entry, serve: masks[r.IntN(len(masks))]})
		}
		runs := chosen(b, spans)
		used := make([]int, len(spans))
		for i, s := range spans {
			k := 0
			for k+1 < len(runs) && runs[k+1].first <= s.first {
				k++
			}
			if used[i] = runs[k].index; s.serve>>used[i]&1 == 0 {
				t.Fatalf("%v: %v does not serve for the span at %d", spans, runs, s.first)
			}
			divided := i > 0 && spans[i-1].entry == s.entry && used[i] != used[i-1]
			if divided && whole(spans, s.entry) != 0 {
				t.Fatalf("%v: %v divides entry %d, which one configuration serves", spans, runs, s.entry)
			}
		}
		if got, want := len(runs)-1, fewest(itemsOf(spans), 0, -1); got != want {
			t.Fatalf("%v: %v has %d changes, wanted %d", spans, runs, got, want)
		}
	}
}

// whole is the configurations that serve for all of an entry.
func whole(spans []span, entry int) mask {
	serve := all
	for _, s := range spans {
		if s.entry == entry {
			serve &= s.serve
		}
	}
	return serve
}

// fewest tries every configuration of every item.
func fewest(items []item, k, before int) int {
	if k == len(items) {
		return 0
	}
	best := 1 << 20
	for index := range 8 {
		if items[k].serve>>index&1 == 0 {
			continue
		}
		changes := fewest(items, k+1, index)
		if before >= 0 && index != before {
			changes++
		}
		best = min(best, changes)
	}
	return best
}

// Of configurations that serve as long, the one with most of the preferred words is taken.
func TestPreferredConfiguration(t *testing.T) {
	for _, c := range []struct {
		serve  mask
		prefer string
		want   int
	}{
		{0b11111111, "front up up", 0}, {0b11111111, "back down up", 6}, {0b10000010, "front up up", 1}, {0b10000001, "back down up", 7},
	} {
		var prefer arm.Configuration
		for p := range arm.Configuration(64) {
			if p.String() == c.prefer {
				prefer = p
			}
		}
		b := &bench{layout: &layout.Layout{Arm: &layout.Arm{Prefer: prefer}}}
		if got := b.preferred(c.serve); got != c.want {
			t.Errorf("of %08b with %q preferred the one with index %d is taken, wanted %d", c.serve, c.prefer, got, c.want)
		}
	}
}
