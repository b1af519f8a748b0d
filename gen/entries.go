package gen

import (
	"context"

	"gridferry/gen/lsp"
	"gridferry/gen/timing"
)

// entries is what the whole job makes, and then each entry of the transfers, as "time" estimates it; nil once ctx is done.
func (j *Job) entries(ctx context.Context) []lsp.Entry {
	j.until(ctx)
	defer func() { j.Watch = nil }()
	p := j.pace(nil)
	entry := func(transfer int) int { _, i := j.Layout.EntryOf(transfer); return i }
	whole, each := timing.Entries(j.paced(p), p.machine(j.Layout), len(j.Layout.Entries), entry)
	if ctx.Err() != nil {
		return nil
	}
	all := []lsp.Entry{{Transfers: j.Layout.Transfers(), Moves: whole.Moves, Lasts: whole.Clock()}}
	for i, e := range j.Layout.Entries {
		all = append(all, lsp.Entry{Place: e.Place, Transfers: e.Transfers(), Moves: each[i].Moves, Lasts: each[i].Clock()})
	}
	return all
}
