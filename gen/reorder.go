package gen

import (
	"gridferry/gen/expand"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/order"
)

// Order proposes a shorter or a quicker order of the transfers, with the times of both orders.
func (j *Job) Order(by layout.Weight) *order.Proposal {
	p := order.Propose(j.Layout, by)
	if p.Changed() {
		p.Written.Seconds = j.seconds()
		again := expand.Batches(p.Layout, expand.Whole)
		p.Waits = move.Count(again).Kind[move.Await]
		if p.Layout.Arm != nil {
			again = joints.Choose(p.Layout, again).Fill(again)
		}
		p.Found.Seconds = seconds(again, p.Layout.Clock())
	}
	return p
}
