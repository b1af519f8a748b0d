package move

import "iter"

// Batches is a list of moves in batches of some hundred: a loop over all moves is
// spared a call and a copy for each. A batch is valid until the next is asked for;
// who keeps a move copies it. Batches are never empty.
type Batches = iter.Seq[[]Move]

// BatchSize is how many moves a batch has at most: enough that a batch more or
// less costs nothing, few enough to stay in a processor's cache.
const BatchSize = 128

// Batched puts the moves of a list into batches.
func Batched(moves Seq) Batches {
	return func(yield func([]Move) bool) {
		piece := make([]Move, 0, BatchSize)
		for m := range moves {
			if piece = append(piece, m); len(piece) < BatchSize {
				continue
			}
			if !yield(piece) {
				return
			}
			piece = piece[:0]
		}
		if len(piece) > 0 {
			yield(piece)
		}
	}
}

// Single is the moves of batches, one at a time.
func Single(pieces Batches) Seq {
	return func(yield func(Move) bool) {
		for piece := range pieces {
			for i := range piece {
				if !yield(piece[i]) {
					return
				}
			}
		}
	}
}
