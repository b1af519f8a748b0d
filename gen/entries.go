package gen

import (
	"context"

	"gridferry/gen/timing"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Made is what an entry of the transfers makes, or all of them together.
type Made struct {
	Place diag.Place // of the entry; of all together none
	Text  string     // "46 transfers, 857 moves, 6 min 39 s"
}

// Made says what the whole job makes, and then each of its entries, as "time" estimates it. It is nil once ctx is done.
func (j *Job) Made(ctx context.Context) []Made {
	j.until(ctx)
	p := pace{run: &j.run}
	entry := func(transfer int) int { _, i := j.Layout.EntryOf(transfer); return i }
	whole, each := timing.Entries(j.paced(&p), p.machine(j.Layout), len(j.Layout.Entries), entry)
	if ctx.Err() != nil {
		return nil
	}
	made := []Made{{Text: makes(j.Layout.Transfers(), &whole)}}
	for i, e := range j.Layout.Entries {
		made = append(made, Made{e.Place, makes(e.Transfers(), &each[i])})
	}
	return made
}

func makes(transfers int, t *timing.EntryTime) string {
	return wording.Count(transfers, "transfer") + ", " + wording.Count(t.Moves, "move") + ", " + t.Clock()
}
