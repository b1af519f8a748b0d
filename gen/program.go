package gen

import (
	"gridferry/gen/check"
	"gridferry/gen/family"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/gen/nest"
	"gridferry/gen/proveout"
	"gridferry/gen/render"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// program is a job in the text of one family: the list as the family gets it, and what
// stands around the moves.
type program struct {
	job    *Job
	family *family.Family
}

func (j *Job) program(f *family.Family) *program { return &program{j, f} }

// linear reports whether the family gets straight moves in place of travels.
func (p *program) linear() bool { return p.job.run.linear(p.family) }

// moves is the list as the family gets it, with readings of joints if it writes some.
func (p *program) moves() move.Batches {
	if p.family.Blocks.UsesArm() {
		return p.inForm(p.job.Batches())
	}
	return p.inForm(p.job.plain())
}

// inForm is a list as the family gets it: with straight lines where that has to be.
func (p *program) inForm(moves move.Batches) move.Batches {
	switch {
	case p.linear():
		return move.Batched(proveout.Lines(move.Single(moves)))
	case p.family.ChoosesTravelSpeed():
		return carefulLinear(moves)
	}
	return moves
}

// carefulLinear is a list whose careful motions are straight lines: they have to be slow, which
// travels would not be where the controller chooses their speed.
func carefulLinear(moves move.Batches) move.Batches {
	return func(yield func([]move.Move) bool) {
		for piece := range moves {
			for i := range piece {
				if piece[i].Careful() {
					piece[i].Kind = move.Straight
				}
			}
			if !yield(piece) {
				return
			}
		}
	}
}

// head is what the program's head and tables say.
func (p *program) head() move.Job {
	counts := p.job.Counts()
	switch {
	case p.linear():
		counts = move.Count(p.moves())
	case p.family.ChoosesTravelSpeed() && counts.Kind[move.Travel] == 1:
		counts.Travel = 0 // that one is the first motion
	}
	return headOf(p.job.Layout, &p.job.run, counts)
}

// loops is what a family that writes loops gets; nil for any other. Only a whole job
// can be written as loops.
func (p *program) loops() *render.Loops {
	if !p.family.Loops {
		return nil
	}
	if run := p.job.run.name(); run != "" {
		return &render.Loops{OtherRun: run}
	}
	tables, statements := nest.Loops(p.job.Layout)
	return &render.Loops{Tables: tables, Statements: statements}
}

// stamp names what the program is written from, for its seal.
func (p *program) stamp() seal.Stamp {
	return seal.Stamp{Version: Version, Plan: p.job.digest, Family: p.family.Digest, Entered: sealed(p.entered())}
}

// oneGripper finds what a family cannot write that has words for one gripper only.
func (p *program) oneGripper(found *diag.List) {
	reason, cannot := p.family.Cannot[rules.Zones]
	for _, e := range p.job.Layout.Entries {
		if cannot && min(e.AtOnce, e.Parts) > 1 {
			found.Errorf("kind-not-possible", e.AtOncePlace, "the family %q does not write %q: %s", p.family.Label, rules.Zones, reason)
			return
		}
	}
}

// anArm finds what a family cannot write that says how the arm stands.
func (p *program) anArm(found *diag.List) {
	arm, blocks := p.job.Layout.Arm, p.family.Blocks
	switch {
	case arm == nil && blocks.UsesArm():
		found.Errorf("arm-needed", p.job.Layout.Cell.Place, "the family %q writes how the arm's joints stand, and the cell does not say what the arm is", p.family.Label).
			WithHint("describe the arm in the cell, under \"arm\", or choose a family that writes poses alone")
	case arm != nil && len(arm.Configurations()) == 0 && blocks.UsesConfiguration():
		found.Errorf("arm-needed", arm.Place, "the family %q writes the arm's configuration, and an arm of this kind has no words for it", p.family.Label).
			WithHint("choose a family that writes joints, or poses alone")
	}
}

// check runs the rules over the family's list where it has straight lines that the job's list has
// not (beside the first motion, which leads from nobody knows where), or where the family says what
// lies between the ends of a travel, and adds the errors that only this family has.
func (p *program) check() bool {
	j := p.job
	var found diag.List
	if p.linear() || p.family.ChoosesTravelSpeed() && j.Counts().ByHand {
		check.Run(j.Layout, p.inForm(j.Batches()), &found)
	}
	if path := p.family.TravelPath; !p.linear() && path != move.JointPath {
		check.Travels(j.Layout, j.Batches(), &found, check.Travel{Path: path, Family: p.family.Label})
	}
	p.oneGripper(&found)
	p.anArm(&found)
	known := map[string]bool{}
	for _, old := range j.Findings.Sorted() {
		known[old.Rule+old.Place.String()] = true
	}
	var news diag.List
	for _, n := range found.Sorted() {
		if n.Severity == diag.Error && !known[n.Rule+n.Place.String()] {
			added := news.Errorf(n.Rule, n.Place, "%s", n.Message)
			added.Notes, added.Hint = n.Notes, n.Hint
		}
	}
	if news.Len() > 0 && p.linear() {
		j.Findings.Errorf("travel-on-a-line", j.Layout.Figures(nil, nil).Place, "in a prove-out the travels of %q become straight lines, and some of these are out of reach or blocked", p.family.Label).
			WithHint("as travels they would go at the controller's own speed; put the clear pose where straight lines lead to every grid")
	}
	j.Findings.AddAll(&news)
	return !j.Findings.HasErrors()
}
