package render

import (
	"bytes"
	"io"

	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Create opens one file of a program, by a name without folders. Files opens
// one at a time and closes it before the next.
type Create func(name string) (io.WriteCloser, error)

// Files writes the program of a job into the files that the family asks for: one, or,
// where that has more lines than a file may have, program parts that end where a
// transfer ends, and last the main text that calls them. Findings are as for
// Program; the error is that of a file.
func Files(create Create, f *blocks.Blocks, job move.Job, moves move.Batches, list *diag.List, o Options) error {
	if f.MostLines == 0 {
		return asOne(create, newProgram(f, job, list, o), job, moves)
	}
	var text bytes.Buffer
	attempt := newProgram(f, job, new(diag.List), Options{MostBytes: o.MostBytes, Cores: o.Cores})
	attempt.budget.lines = f.MostLines
	if err := oneText(attempt, &text, job, moves); err != nil {
		return err
	}
	if attempt.budget.bytes <= attempt.budget.most && attempt.budget.written <= f.MostLines {
		return asOne(create, newProgram(f, job, list, o), job, moves)
	}
	return inParts(create, newProgram(f, job, list, o), job, moves)
}

// asOne writes the program into one file.
func asOne(create Create, p *program, job move.Job, moves move.Batches) error {
	p.file = p.family.Stem(job.FileName()) + p.family.Extension
	w, err := create(p.file)
	if err != nil {
		return err
	}
	if err := oneText(p, w, job, moves); err != nil {
		w.Close()
		return err
	}
	return w.Close()
}

// inParts writes parts and then the main text.
func inParts(create Create, p *program, job move.Job, moves move.Batches) error {
	head := p.head(job, moves)
	p.parts = &parts{program: p, create: create, plan: job.FileName(), name: head.Program, title: head.Title}
	p.all(moves)
	p.parts.settle()
	p.parts.close()
	if p.parts.err != nil {
		return p.parts.err
	}
	called := p.parts.done
	head.Parts = len(called)
	p.parts = nil
	p.file = p.family.Stem(job.FileName()) + p.family.Extension
	w, err := create(p.file)
	if err != nil {
		return err
	}
	p.lines = newLines(w, p.family, p.budget)
	p.around(blocks.Begin, head, move.Move{Place: job.Place})
	for _, part := range called {
		p.around(blocks.Call, part, move.Move{Place: job.Place})
	}
	p.lines.ends()
	p.around(blocks.End, head, move.Move{Place: job.Place})
	if p.lines.count > p.family.MostLines {
		p.found.errorf(ruleParts, job.Place, "", "the main text that calls the program's %d parts has %d lines, at most %d fit in a file", len(called), p.lines.count, p.family.MostLines).
			WithHint("split the plan into several")
	}
	if err := p.lines.flush(); err != nil {
		w.Close()
		return err
	}
	return w.Close()
}
