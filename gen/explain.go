package gen

import (
	"io"

	"gridferry/gen/explain"
	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/seal"
)

// Explain answers a question about the lines of plan and program, with repeats
// folded. A program that would be cut into several files is explained as one text.
func (j *Job) Explain(f *family.Family, q explain.Query) (*explain.Report, error) {
	return explain.Explain(j.explained(f), q)
}

// ExplainJSON writes what rests on what, move by move, as data.
func (j *Job) ExplainJSON(w io.Writer, f *family.Family, q explain.Query) error {
	return explain.JSON(w, j.explained(f), q)
}

// explainedAs is what kind of run is explained: the reasons are those of the job, also
// where a first run does not do what they speak of.
func (j *Job) explainedAs() []string {
	notices := j.notices()
	if j.run.ProveOut != nil {
		notices = append(notices, "The reasons are those of the job itself, which carries parts.")
	}
	return notices
}

func (j *Job) explained(f *family.Family) explain.Job {
	head := j.headFor(f)
	e := explain.Job{
		Layout: j.Layout, Title: j.title(), Notices: j.explainedAs(), Counts: head.Counts, Sources: &j.Sources, Family: f.Label, Loops: f.Loops,
		Program: func(w io.Writer, trace func(m move.Move, first, last int)) error {
			sealed := seal.NewWriter(w, &f.Rules, j.stamp(f))
			err := render.ProgramWith(sealed, f, head, j.batchesFor(f), &j.Findings, render.Options{
				Loops: j.loops(f),
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
