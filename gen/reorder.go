package gen

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/order"
)

// Order proposes a shorter or a quicker order of the transfers, with the times of both orders.
func (j *Job) Order(by layout.Weight) *order.Proposal {
	p := order.Propose(j.Layout, by)
	if p.Changed() {
		again := Job{Layout: p.Layout, Watch: j.Watch}
		p.Written.Seconds, p.Found.Seconds = j.seconds(), again.seconds()
		p.Waits = again.Counts().Kind[move.Await]
	}
	return p
}
