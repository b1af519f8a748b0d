package render

import (
	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// chunk is a stretch of the list on its way to text. What it needs to know of the
// moves before it stands on it, so that chunks can be written beside each other. How
// the list is cut depends on the list alone and not on the machine.
type chunk struct {
	moves    []move.Move
	next     int    // the first that is not written yet
	before   chosen // by the last select before that
	transfer int    // the one that it may go on with
	unit     int    // likewise, the first of those whose parts are carried at once
	begun    int    // where among the moves that began
	ends     []ends // of it

	text     []byte      // what their blocks wrote, one behind the other
	lines    int         // in the text, where it is finished
	finished bool        // the text is lines as they stand in the program
	done     []written   // what became of the moves, in order; of finished ones, where somebody asks
	runsAway bool        // a template did: the rest was not written
	left     blocks.Left // what the blocks may do for the moves that are not written yet

	ready chan struct{} // gets a token when it is written
}

// written is what became of a move, or of the heading before it.
type written struct {
	move    *move.Move
	heading bool
	block   string             // "" for a move that no block was run for
	end     int                // of its text in the chunk's, which begins where the one before ends
	lines   int                // in that text, where it is finished
	lean    float64            // of a tool that is written as upright, degrees
	wrong   []func(p *program) // reports
}

// about is what lines are reported with: the move, or for a heading its transfer.
func (w *written) about() move.Move {
	if w.heading {
		return move.Move{Transfer: w.move.Transfer, Leg: w.move.Leg, Place: w.move.Place}
	}
	return *w.move
}

const (
	// A chunk ends with a transfer once it has so many moves: enough that handing it over costs little beside writing it,
	// and few enough that it stays in a core's own cache. With 1024 a "write" takes 1.1 to 1.2 times as long.
	chunkSize = 128

	// A heading says where its transfer's part goes from and to, and the others that are
	// carried at once. So many of their moves are looked at for that; a transfer is a
	// dozen. What goes on for longer may be cut behind them.
	mostAhead = 256

	// A chunk with more text than this is laid out before the rest of it is written, so
	// that what is held does not grow with what a template writes.
	mostText = 256 << 10
)

func newChunk() *chunk {
	return &chunk{moves: make([]move.Move, 0, chunkSize+mostAhead), ready: make(chan struct{}, 1)}
}

// cutter cuts a list into chunks.
type cutter struct {
	before   chosen // by the last select
	transfer int    // the present one
	unit     int    // likewise, the first of those whose parts are carried at once
	moves    int    // of that, so far
	winding  rules.Winding
}

// begin makes a chunk new, to go on behind the last one.
func (k *cutter) begin(c *chunk) *chunk {
	c.moves, c.next, c.runsAway = c.moves[:0], 0, false
	c.before, c.transfer, c.unit, c.begun, c.ends = k.before, k.transfer, k.unit, -mostAhead, c.ends[:0]
	return c
}

// ends reports whether a chunk is complete before the next move.
func (k *cutter) ends(c *chunk, next *move.Move) bool {
	return len(c.moves) >= chunkSize && (next.Unit() != k.unit || k.moves >= mostAhead)
}

// put adds a move to a chunk. What its orientation leaves open is settled here, where
// all moves come by in order.
func (k *cutter) put(c *chunk, m *move.Move) rules.Wound {
	if m.Unit() != k.unit {
		k.unit, k.moves = m.Unit(), 0
	}
	k.transfer = m.Transfer
	k.moves++
	if m.Kind == move.Select {
		k.before = chosenBy(m)
	}
	c.moves = append(c.moves, *m)
	return k.winding.Follow(&c.moves[len(c.moves)-1])
}
