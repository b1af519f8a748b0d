package gen

import (
	"io"

	"gridferry/gen/explain"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/seal"
)

// explained is what the answers of explain are made from.
func (p *program) explained() explain.Job {
	j, head := p.job, p.head()
	e := explain.Job{
		Layout: j.Layout, Title: head.Title, Notices: reasonsOf(j.Layout, &j.run, head.Counts), Counts: head.Counts, Sources: &j.Sources, Family: p.family.Label, Loops: p.family.Loops,
		Program: func(w io.Writer, trace func(m move.Move, first, last int)) error {
			sealed := seal.NewWriter(w, &p.family.Rules, p.stamp())
			err := render.ProgramWith(sealed, p.family.Blocks, head, p.moves(), &j.Findings, render.Options{
				Loops: p.loops(),
				Trace: func(m move.Move, _ string, first, last int) { trace(m, first, last) },
			})
			if err != nil {
				return err
			}
			return sealed.Close()
		},
	}
	if r := j.run.Resume; r != nil {
		e.From, e.Begin = r.Transfer, r.Begin
	}
	return e
}

// Why answers a question in short lines. Only one about a line of the program asks for a family, and writes
// the program; the others go through the list alone.
func (j *Job) Why(f *family.Family, q explain.Query) (title string, lines []string, err error) {
	var asked explain.Job
	if q.ProgramLine > 0 {
		asked = j.program(f).explained()
	} else {
		asked = j.listed()
	}
	report, err := explain.Explain(asked, q)
	if err != nil {
		return "", nil, err
	}
	title, lines = report.Brief()
	return title, lines, nil
}

// listed is what answers are made from that speak of no program.
func (j *Job) listed() explain.Job {
	counts := j.Counts()
	e := explain.Job{
		Layout: j.Layout, Title: j.Layout.Title, Notices: reasonsOf(j.Layout, &j.run, counts), Counts: counts, Sources: &j.Sources,
		Program: func(_ io.Writer, trace func(m move.Move, first, last int)) error {
			for piece := range j.plain() {
				for i := range piece {
					trace(piece[i], 1, 0)
				}
			}
			return nil
		},
	}
	if r := j.run.Resume; r != nil {
		e.From, e.Begin = r.Transfer, r.Begin
	}
	return e
}

// QueryOf is the question about a line of a file; the zero one for a file of which no question is answered,
// or where there is no layout.
func (j *Job) QueryOf(file string, line int) explain.Query {
	switch {
	case j.Layout == nil:
	case file == j.Layout.File:
		return explain.Query{PlanLine: line}
	case file == j.Layout.Cell.Place.File:
		return explain.Query{CellLine: line}
	}
	return explain.Query{}
}

// reasonsOf are the notices of a run, with one about the reasons: these are those of the
// whole job, and speak of parts even where a prove-out carries none.
func reasonsOf(l *layout.Layout, r *run, counts move.Counts) []string {
	notices := r.notices(l, counts.Kind[move.Travel] == 0)
	if r.ProveOut != nil {
		notices = append(notices, "The reasons given are those of the whole job, which carries parts.")
	}
	return notices
}
