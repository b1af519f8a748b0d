package gen

import (
	"context"
	"io/fs"

	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/lsp"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Served is how plans are read for an editor.
type Served struct{ Layout layout.Options }

// LSP is a server of editors.
func (o Served) LSP() *lsp.Server {
	return lsp.New(lsp.Flow{
		Plan: func(source plan.Source) lsp.Job {
			j := new(Job)
			j.Read(source, nil, o.Layout)
			return &servedPlan{j}
		},
		Cell: func(source plan.Source) lsp.Job {
			j := new(Job)
			j.ReadBench(source)
			return &servedCell{j}
		},
		Family: func(files fs.FS, folder string) lsp.Job {
			j := new(Job)
			j.ReadTryPlan()
			f, _ := j.LoadFamily(files, folder)
			return &servedFamily{j, f}
		},
	}, Version)
}

// servedPlan is a plan, as "check" looks at it.
type servedPlan struct{ job *Job }

func (p *servedPlan) Work(ctx context.Context) *lsp.Work {
	if p.job.until(ctx); !p.job.Findings.HasErrors() {
		p.job.Check()
	}
	return workOf(p.job)
}

// servedCell is a cell alone, as "arm" reads it.
type servedCell struct{ job *Job }

func (c *servedCell) Work(context.Context) *lsp.Work { return workOf(c.job) }

// servedFamily is a family, as "families try" tries it.
type servedFamily struct {
	job    *Job
	family *family.Family
}

func (f *servedFamily) Work(ctx context.Context) *lsp.Work {
	if f.job.until(ctx); !f.job.Findings.HasErrors() {
		if _, err := f.job.Try(f.family, true); err != nil {
			f.job.Findings.Errorf("family-fails", diag.Place{File: f.family.Label}, "the family cannot be tried: %v", err)
		}
	}
	return workOf(f.job)
}

func workOf(j *Job) *lsp.Work { return &lsp.Work{Findings: j.Findings.Sorted(), Sources: &j.Sources} }
