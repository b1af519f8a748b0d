package gen

import (
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/order"
)

// proposed is a shorter order of the transfers, with the times of both orders. The moves
// are those of the layout as it is.
func proposed(l *layout.Layout, written move.Batches) *order.Proposal {
	p := order.Propose(l)
	if p.Changed() {
		p.Written.Seconds = seconds(written, clockOf(l))
		again := expand.Batches(p.Layout, expand.Whole)
		p.Shortest.Seconds = seconds(again, clockOf(l))
		p.Waits = move.Count(again).Kind[move.Await]
	}
	return p
}
