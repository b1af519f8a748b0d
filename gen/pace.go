package gen

import (
	"gridferry/gen/family"
	"gridferry/gen/family/rules"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
	"gridferry/gen/timing"
)

// pace is how a list goes: as the plan has it, or as a family writes it.
type pace struct {
	run    *run
	family *family.Family                  // nil for the plan
	joints func(move.Batches) move.Batches // gives motions the readings of joints
}

// pace is how the job goes as a family writes it; as the plan has it where that is nil.
func (j *Job) pace(f *family.Family) *pace { return &pace{&j.run, f, j.withJoints} }

// moves is the list of a layout at this pace.
func (p *pace) moves(l *layout.Layout) move.Batches {
	moves := p.joints(p.run.list(l))
	if p.family == nil {
		return moves
	}
	if p.run.linear(p.family) {
		moves = move.Batched(proveout.Lines(move.Single(moves)))
	}
	return p.written(moves, l)
}

// written is a list with the speeds, fly-bys and turns that the family's program has.
func (p *pace) written(moves move.Batches, l *layout.Layout) move.Batches {
	f, m := p.family, &l.Cell.Machine
	return func(yield func([]move.Move) bool) {
		winding := f.NewWinding(m.Rotation.Range.V)
		figure, stops := f.Rounding(m.Speed.V), f.StopsEverywhere()
		for piece := range moves {
			for i := range piece {
				if one := &piece[i]; one.Kind.IsMotion() {
					winding.Follow(one)
					one.Speed, one.FlyBy = figure(rules.Speed, one.Speed), figure(rules.Limit, one.FlyBy)
					if stops {
						one.FlyBy = 0
					}
				}
			}
			if !yield(piece) {
				return
			}
		}
	}
}

// machine is what the cell says of how fast the machine moves, and the family.
func (p *pace) machine(l *layout.Layout) timing.Machine {
	m := l.Clock()
	if f := p.family; f != nil {
		m.ByAxis, m.Between = f.Rotation == rules.Vertical, f.FlyBy == rules.Between
		limits := f.Limits.Or(m.Acceleration, m.Jerk)
		m.Acceleration, m.Jerk = limits.Acceleration, limits.Jerk
		if m.Joints != nil {
			m.Joints.Lead = f.TravelPath == move.JointPath
		}
	}
	return m
}

// measured is how long a job takes at this pace.
func (p *pace) measured(l *layout.Layout, moves move.Batches) *timing.Report {
	report := timing.Measure(moves, p.machine(l))
	if f := p.family; f != nil {
		report.Program = timing.Program{Family: f.Label, Stops: f.StopsEverywhere(), Rapids: f.ChoosesTravelSpeed() && p.run.ProveOut == nil}
	}
	if p.run.withoutParts() {
		report.Parts = 0 // its transfers carry none
	}
	return report
}
