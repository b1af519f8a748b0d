package gen

import (
	"context"
	"io/fs"
	"strings"
	"sync"

	"gridferry/gen/family"
	"gridferry/gen/family/rules"
	"gridferry/gen/goldens"
	"gridferry/gen/layout"
	"gridferry/gen/lsp"
	"gridferry/plan"
	"gridferry/plan/decode"
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
			return &servedPlan{job: j}
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
		Form: formOfName,
	}, Version)
}

// formOfName is how a file is written that is known by its name alone; nil for any other.
func formOfName(name string) decode.Form {
	kind, err := FileKindNamed(strings.TrimSuffix(name, ".yaml"))
	if err != nil || name != rules.File && name != goldens.CaseFile {
		return nil
	}
	return kind.form()
}

// servedPlan is a plan, as "check" looks at it.
type servedPlan struct {
	job *Job

	mu      sync.Mutex // held while somebody goes through the moves
	entries []lsp.Entry
}

func (p *servedPlan) Work(ctx context.Context) *lsp.Work {
	if p.job.until(ctx); !p.job.Findings.HasErrors() {
		p.job.Check()
	}
	p.job.Watch = nil // ctx ends with the work
	return workOf(p.job)
}

// Entries goes through the moves once more, the first time.
func (p *servedPlan) Entries(ctx context.Context) []lsp.Entry {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.entries == nil && !p.job.Findings.HasErrors() {
		p.entries = p.job.entries(ctx)
	}
	return p.entries
}

// servedCell is a cell alone, as "arm" reads it.
type servedCell struct{ job *Job }

func (*servedCell) Entries(context.Context) []lsp.Entry { return nil }

func (c *servedCell) Work(context.Context) *lsp.Work { return workOf(c.job) }

// servedFamily is a family, as "families try" tries it.
type servedFamily struct {
	job    *Job
	family *family.Family
}

func (*servedFamily) Entries(context.Context) []lsp.Entry { return nil }

func (f *servedFamily) Work(ctx context.Context) *lsp.Work {
	if f.job.until(ctx); !f.job.Findings.HasErrors() {
		if _, err := f.job.Try(f.family, true); err != nil {
			f.job.Findings.Errorf("family-fails", diag.Place{File: f.family.Label}, "the family cannot be tried: %v", err)
		}
	}
	return workOf(f.job)
}

func workOf(j *Job) *lsp.Work {
	return &lsp.Work{Findings: j.Findings.Sorted(), Sources: &j.Sources, Layout: j.Layout}
}
