package gen

import (
	"slices"
	"testing"

	"gridferry/gen/move"
)

// TestRelay: whoever reads gets the whole list, in order and once, whether all of it was passed on before, some of it so far,
// or nothing; and where it was given up, as much as was passed on.
func TestRelay(t *testing.T) {
	var all []move.Move
	for n := range 5*move.BatchSize + 7 {
		all = append(all, move.Move{N: n + 1})
	}
	for _, passed := range []int{0, 1, 40, move.BatchSize, 3 * move.BatchSize, len(all)} {
		for _, ended := range []bool{false, true} {
			for _, late := range []int{0, passed / 3} { // that come while the reader is at work already
				r := &relay{list: move.Batched(slices.Values(all))}
				pass := func(from, to int) {
					for batch := range slices.Chunk(all[from:to], 30) {
						r.pass(batch)
					}
				}
				pass(0, passed-late)
				r.ended = ended
				var got []int
				for batch := range r.batches {
					if got == nil {
						pass(passed-late, passed)
					}
					for i := range batch {
						got = append(got, batch[i].N)
					}
				}
				want := len(all)
				if ended {
					want = passed
				}
				for i, n := range got {
					if n != i+1 {
						t.Fatalf("%d passed on, %d of them late: number %d is %d", passed, late, i+1, n)
					}
				}
				if len(got) != want {
					t.Errorf("%d passed on, %d of them late, ended %v: the reader got %d moves, wanted %d", passed, late, ended, len(got), want)
				}
			}
		}
	}
}

// Moves that nobody takes any more are not kept.
func TestRelayIsLeft(t *testing.T) {
	r := &relay{list: func(func([]move.Move) bool) {}}
	r.pass([]move.Move{{N: 1}})
	for range r.batches {
		break
	}
	if r.pass([]move.Move{{N: 2}}); len(r.due) != 0 {
		t.Errorf("%d batches are kept for nobody", len(r.due))
	}
}
