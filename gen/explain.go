package gen

import (
	"io"

	"gridferry/gen/explain"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/seal"
)

// explained is what an answer about lines of plan and program is made from.
func (p *program) explained() explain.Job {
	j, head := p.job, p.head()
	e := explain.Job{
		Layout: j.Layout, Title: head.Title, Notices: reasonsOf(&j.run), Counts: head.Counts, Sources: &j.Sources, Family: p.family.Label, Loops: p.family.Loops,
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

// reasonsOf is what kind of run is explained: the reasons are those of the job, also
// where a first run does not do what they speak of.
func reasonsOf(r *run) []string {
	notices := r.notices()
	if r.ProveOut != nil {
		notices = append(notices, "The reasons are those of the job itself, which carries parts.")
	}
	return notices
}
