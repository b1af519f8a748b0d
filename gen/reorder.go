package gen

import (
	"gridferry/gen/expand"
	"gridferry/gen/order"
)

// Order proposes a shorter order for the transfers, with what it saves.
func (j *Job) Order() *order.Proposal {
	p := order.Propose(j.Layout)
	if p.Changed() {
		p.Written.Seconds = seconds(j.Moves(), j.Clock())
		p.Shortest.Seconds = seconds(expand.Moves(p.Layout), j.Clock())
	}
	return p
}
