package expand

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// How far the list is made ahead: so many batches of so many moves. They are larger than
// others, since each has to be passed from one core to another. The first ones are small: the other core need not wait for
// what a short list never fills.
const (
	aheadPieces = 4
	aheadSize   = 16 * move.BatchSize
)

// Ahead is Batches, made on a core of its own while the batches before are used: without it
// "check" takes 1.6 times as long on two cores.
func Ahead(l *layout.Layout, from Start) move.Batches {
	return func(yield func([]move.Move) bool) {
		made, free, left := make(chan []move.Move, aheadPieces), make(chan []move.Move, aheadPieces), make(chan struct{})
		for range aheadPieces - 1 { // one is being filled
			free <- nil
		}
		defer func() {
			close(left)
			for range made { // until nobody looks at the layout any more
			}
		}()
		go func() {
			defer close(made)
			expand(l, from, make([]move.Move, 0, move.BatchSize), func(piece []move.Move) []move.Move {
				return exchange(piece, made, free, left)
			})
		}()
		for piece := range made {
			if !yield(piece) {
				return
			}
			free <- piece
		}
	}
}

// exchange passes a batch on for an empty one, which is larger up to a size; nil when nobody takes any more, or behind the last.
func exchange(piece []move.Move, made chan<- []move.Move, free <-chan []move.Move, left <-chan struct{}) []move.Move {
	made <- piece // there is room for all that there are
	if len(piece)+mostHeld < cap(piece) {
		return nil // it is the last one, for only that is passed on before it is full
	}
	select {
	case <-left:
		return nil
	case next := <-free:
		if size := min(4*cap(piece), aheadSize); cap(next) < size {
			next = make([]move.Move, 0, size)
		}
		return next[:0]
	}
}
