package gen

import (
	"io"

	"gridferry/gen/explain"
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

// reasonsOf are the notices of a run, with one about the reasons: these are those of the
// whole job, and speak of parts even where a prove-out carries none.
func reasonsOf(l *layout.Layout, r *run, counts move.Counts) []string {
	notices := r.notices(l, counts.Kind[move.Travel] == 0)
	if r.ProveOut != nil {
		notices = append(notices, "The reasons given are those of the whole job, which carries parts.")
	}
	return notices
}
