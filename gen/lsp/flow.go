package lsp

import (
	"context"
	"io/fs"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// Flow is what the stages of a job do for the server.
type Flow struct {
	// Plan takes texts to a job: read, then resolved.
	Plan func(plan.Source) Job
	// Cell is the same of a cell alone, that no plan names.
	Cell func(plan.Source) Job
	// Family is the same of a family's folder, whose name findings show.
	Family func(files fs.FS, folder string) Job
}

// Job is what was read. Its pass over moves ends when ctx is done; the work is then of no use.
type Job interface {
	Work(ctx context.Context) *Work
}

// Work is what came of a job.
type Work struct {
	Findings []diag.Finding // sorted
	Sources  *diag.Sources
}
