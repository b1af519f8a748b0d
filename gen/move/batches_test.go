package move

import (
	"slices"
	"testing"
)

// counted is n moves that tell how many were asked for.
func counted(n int, asked *int) Seq {
	return func(yield func(Move) bool) {
		for i := range n {
			if *asked = i + 1; !yield(Move{N: i + 1}) {
				return
			}
		}
	}
}

func TestBatchesHoldEveryMoveOnce(t *testing.T) {
	for _, n := range []int{0, 1, BatchSize - 1, BatchSize, BatchSize + 1, 3*BatchSize + 7} {
		var asked, pieces int
		var got []int
		for piece := range Batched(counted(n, &asked)) {
			if pieces++; len(piece) == 0 || len(piece) > BatchSize {
				t.Errorf("of %d moves a piece has %d", n, len(piece))
			}
			for i := range piece {
				got = append(got, piece[i].N)
			}
		}
		single := 0
		for m := range Single(Batched(counted(n, &asked))) {
			if single++; m.N != single {
				t.Fatalf("move %d comes at %d", m.N, single)
			}
		}
		if len(got) != n || single != n || !slices.IsSorted(got) || pieces != (n+BatchSize-1)/BatchSize {
			t.Errorf("of %d moves there are %d, or %d, in %d pieces", n, len(got), single, pieces)
		}
	}
}

func TestBatchesStopWhenNobodyAsks(t *testing.T) {
	var asked int
	for range Batched(counted(10*BatchSize, &asked)) {
		break
	}
	if asked != BatchSize {
		t.Errorf("for one piece %d moves were made", asked)
	}
	for m := range Single(Batched(counted(10*BatchSize, &asked))) {
		if m.N == 3 {
			break
		}
	}
	if asked != BatchSize {
		t.Errorf("for three moves %d were made", asked)
	}
}
