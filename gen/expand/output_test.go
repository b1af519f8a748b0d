package expand

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/move"
)

// TestPiecesDoNotShow: where a piece ends, in the middle of what waits for the next
// motion too, changes nothing about the list.
func TestPiecesDoNotShow(t *testing.T) {
	list := func(kinds []move.Kind, size int) (all []move.Move) {
		o := newOutput(size, func(piece []move.Move) bool {
			all = append(all, piece...)
			return true
		})
		o.flyBy = 15
		for _, k := range kinds {
			o.add(k, move.Asked)
		}
		o.done()
		return all
	}
	rapid.Check(t, func(t *rapid.T) {
		kinds := rapid.SliceOfN(rapid.SampledFrom([]move.Kind{move.Select, move.Travel, move.Straight, move.Grip, move.Note, move.Note, move.Note}), 0, 200).Draw(t, "kinds")
		whole := list(kinds, len(kinds)+1)
		for _, size := range []int{mostHeld + 1, mostHeld + 2, 3 * mostHeld, move.BatchSize} {
			if got := list(kinds, size); !slices.Equal(got, whole) {
				t.Fatalf("in pieces of %d the list differs", size)
			}
		}
		for i, m := range whole {
			if m.N != i+1 || m.Kind != kinds[i] {
				t.Fatalf("move %d is %d, %s", i+1, m.N, m.Kind)
			}
		}
	})
}

// TestNoMoreThanAskedFor: after the piece that was the last one nothing is made.
func TestNoMoreThanAskedFor(t *testing.T) {
	pieces := 0
	o := newOutput(move.BatchSize, func([]move.Move) bool { pieces++; return false })
	for range move.BatchSize {
		if o.add(move.Grip, move.TakeHold) == nil {
			t.Fatal("the first piece is not filled")
		}
	}
	if o.add(move.Grip, move.TakeHold) != nil {
		t.Error("a move is made that nobody wants")
	}
	if o.done(); pieces != 1 {
		t.Errorf("%d pieces were handed on", pieces)
	}
}
