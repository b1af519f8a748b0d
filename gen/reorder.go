package gen

import (
	"gridferry/gen/expand"
	"gridferry/gen/order"
)

// Order proposes a shorter order for the transfers, with what it saves.
func (j *Job) Order() *order.Proposal {
	p := order.Propose(j.Layout)
	if p.Changed() {
		p.Written.Seconds = seconds(j.Batches(), j.Clock())
		p.Shortest.Seconds = seconds(expand.Batches(p.Layout, expand.Whole), j.Clock())
	}
	return p
}
