package gen

import (
	"gridferry/gen/check"
	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/gen/nest"
	"gridferry/gen/proveout"
	"gridferry/gen/render"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// program is a job on its way through one family: the list as the family gets it, and
// what a text has beside the moves.
type program struct {
	job    *Job
	family *family.Family
}

func (j *Job) through(f *family.Family) *program { return &program{j, f} }

// onLines tells whether the family's list is another one: that of a first run, for a
// controller that chooses the speed of its travels and so is given straight lines.
func (p *program) onLines() bool {
	return p.job.run.ProveOut != nil && p.family.ChoosesTravelSpeed()
}

// moves is the list as the family gets it.
func (p *program) moves() move.Batches {
	if p.onLines() {
		return move.Batched(proveout.Lines(p.job.Moves()))
	}
	return p.job.Batches()
}

// head is what the program's head and tables need.
func (p *program) head() move.Job {
	counts := p.job.Counts()
	if p.onLines() {
		counts = move.Count(p.moves())
	}
	return headOf(p.job.Layout, &p.job.run, counts)
}

// loops is what a family that writes loops is given; nil for any other. For a run
// that is not the whole job as it is planned there are none: loops could not tell it.
func (p *program) loops() *render.Loops {
	if !p.family.Loops {
		return nil
	}
	if run := p.job.run.name(); run != "" {
		return &render.Loops{OtherRun: run}
	}
	return &render.Loops{Tables: nest.Tables(p.job.Layout), Statements: nest.Statements(p.job.Layout)}
}

// stamp is what the program is written from.
func (p *program) stamp() seal.Stamp {
	return seal.Stamp{Version: Version, Plan: p.job.digest, Family: p.family.Digest}
}

// check holds the family's list to the rules, where it is another one: what goes wrong
// on straight lines only, on top of what is known.
func (p *program) check() bool {
	j := p.job
	if !p.onLines() {
		return !j.Findings.HasErrors()
	}
	known := map[string]bool{}
	for _, old := range j.Findings.Sorted() {
		known[old.Rule+old.Place.String()] = true
	}
	var found, news diag.List
	check.Run(j.Layout, p.moves(), &found)
	for _, n := range found.Sorted() {
		if n.Severity == diag.Error && !known[n.Rule+n.Place.String()] {
			news.Errorf(n.Rule, n.Place, "%s", n.Message).Notes = n.Notes
		}
	}
	if news.Len() > 0 {
		j.Findings.Errorf("travel-on-a-line", j.Layout.Figures(nil, nil).Place, "in a first run %q goes its travels on straight lines, and not all of these can be gone", p.family.Label).
			WithHint("its travels are rapids at the controller's own speed; put the clear pose where straight lines lead to every grid")
	}
	j.Findings.AddAll(&news)
	return !j.Findings.HasErrors()
}
