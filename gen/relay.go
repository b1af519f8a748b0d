package gen

import (
	"sync"

	"gridferry/gen/move"
)

// relay hands the moves on from which a program is written to whoever reads it back, so that the list is made once for both:
// otherwise a "write" is 1.1 to 1.2 times the work.
//
// A line is read back after its move was passed on. So where the reader asks for more, the program says more than its list. How
// far the writer is by then differs from run to run, and what is found must not: from there on the reader gets a list of its own.
type relay struct {
	list move.Batches // the same moves

	mu    sync.Mutex
	due   [][]move.Move // passed on and not taken yet
	free  [][]move.Move
	ended bool // all were passed on that will be
	left  bool // nobody takes any more
}

// pass keeps a copy of a batch for the reader.
func (r *relay) pass(batch []move.Move) {
	if own, wanted := r.room(); wanted {
		own = append(own, batch...)
		r.mu.Lock()
		r.due = append(r.due, own)
		r.mu.Unlock()
	}
}

// room is an empty batch; false when nobody takes any more.
func (r *relay) room() ([]move.Move, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	n := len(r.free)
	if r.left || n == 0 {
		return make([]move.Move, 0, move.BatchSize), !r.left
	}
	own := r.free[n-1]
	r.free = r.free[:n-1]
	return own[:0], true
}

// end says that no more moves come.
func (r *relay) end() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.ended = true
}

// batches is the list for the reader, who goes through it once.
func (r *relay) batches(yield func([]move.Move) bool) {
	defer r.leave()
	taken := 0
	for batch := r.take(nil); batch != nil; batch = r.take(batch) {
		if taken += len(batch); !yield(batch) {
			return
		}
	}
	if r.leave() {
		return
	}
	for batch := range r.list {
		known := min(taken, len(batch))
		if taken -= known; known < len(batch) && !yield(batch[known:]) {
			return
		}
	}
}

// take gives a batch back for the next one; nil where there is none, or none yet.
func (r *relay) take(back []move.Move) []move.Move {
	r.mu.Lock()
	defer r.mu.Unlock()
	if back != nil {
		r.free = append(r.free, back)
	}
	if len(r.due) == 0 {
		return nil
	}
	next := r.due[0]
	r.due = append(r.due[:0], r.due[1:]...)
	return next
}

// leave says that nobody takes any more, and whether the list was complete.
func (r *relay) leave() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.left, r.due, r.free = true, nil, nil
	return r.ended
}
