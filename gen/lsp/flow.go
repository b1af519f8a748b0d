package lsp

import (
	"context"
	"io/fs"

	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Flow is what the stages of a job do for the server.
type Flow struct {
	// Plan takes texts to a job: read, then resolved.
	Plan func(plan.Source) Job
	// Cell is the same of a cell alone, that no plan names.
	Cell func(plan.Source) Job
	// Family is the same of a family's folder, whose name findings show.
	Family func(files fs.FS, folder string) Job
	// Form is how a file of some name is written; nil for what it says itself.
	Form func(name string) decode.Form
}

// Job is what was read. Its pass over moves ends when ctx is done; the work is then of no use.
type Job interface {
	Work(ctx context.Context) *Work
	// Entries are what all transfers of a plan make together, without a place, and then what each entry makes; nil where
	// there are errors. They are asked for once the work has ended.
	Entries(ctx context.Context) []Entry
}

// Work is what came of a job.
type Work struct {
	Findings []diag.Finding // sorted
	Sources  *diag.Sources
	Layout   *layout.Layout // nil where there is none
}

// Entry is what an entry of transfers makes.
type Entry struct {
	Place            diag.Place
	Transfers, Moves int
	Lasts            string
}

// String says it in a few words.
func (e Entry) String() string {
	return wording.Count(e.Transfers, "transfer") + ", " + wording.Count(e.Moves, "move") + ", " + e.Lasts
}
