package gen

import (
	"fmt"
	"iter"
	"sync"

	"gridferry/gen/arm"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/timing"
)

// measured is how long the job takes as a family writes it; of the plan where that is nil.
func (j *Job) measured(f *family.Family) *timing.Report {
	p := j.pace(f)
	return p.measured(j.Layout, j.paced(p))
}

// times is how long each move takes as a family writes it.
func (j *Job) times(f *family.Family) iter.Seq[timing.Timed] {
	p := j.pace(f)
	return timing.Times(p.moves(j.Layout), p.machine(j.Layout))
}

// paced is the list at a pace, and whoever watches sees it go by.
func (j *Job) paced(p *pace) move.Batches {
	return j.watched(p.moves(j.Layout))
}

// withChanges adds to a report what changing one thing would add to the time.
func withChanges(report *timing.Report, l *layout.Layout, p *pace) *timing.Report {
	report.Changes = make([]timing.Change, len(levers))
	var all sync.WaitGroup
	for i := range levers {
		all.Go(func() { report.Changes[i] = levers[i].pull(l, p, report.Seconds) })
	}
	all.Wait()
	return report
}

// lever is one thing that can be changed: turn multiplies it by a factor.
type lever struct {
	what string
	turn func(l *layout.Layout, m *timing.Machine, by float64)
	note func(l *layout.Layout, r *run) string
}

var levers = []lever{
	{"speed", func(l *layout.Layout, _ *timing.Machine, by float64) {
		for _, f := range l.AllFigures() {
			f.Travel.V, f.Near.V, f.Loaded.V = f.Travel.V*by, f.Near.V*by, f.Loaded.V*by
		}
	}, speedNote},
	{"acceleration", func(_ *layout.Layout, m *timing.Machine, by float64) {
		m.Acceleration, m.TurnAcceleration = m.Acceleration*by, m.TurnAcceleration*by
		if m.Joints != nil {
			for i := range m.Joints.Accelerations {
				m.Joints.Accelerations[i] *= by // machine made them for this one lever
			}
		}
	}, accelerationNote},
	{"settle", func(l *layout.Layout, _ *timing.Machine, by float64) {
		for _, t := range l.Tools {
			t.Grip.Settle, t.Release.Settle = t.Grip.Settle*by, t.Release.Settle*by
		}
	}, nil},
	{"approach", func(l *layout.Layout, _ *timing.Machine, by float64) {
		for _, f := range l.AllFigures() {
			f.Approach.V *= by
		}
	}, nil},
}

// pull works out what 10 % less and 10 % more add to the time.
func (v *lever) pull(l *layout.Layout, p *pace, seconds float64) timing.Change {
	c := timing.Change{What: v.what}
	if v.note != nil {
		c.Note = v.note(l, p.run)
	}
	c.Less, c.More = v.timed(l.Copy(), p, 0.9)-seconds, v.timed(l.Copy(), p, 1.1)-seconds
	return c
}

func (v *lever) timed(l *layout.Layout, p *pace, by float64) float64 {
	m := p.machine(l)
	v.turn(l, &m, by)
	return seconds(p.moves(l), m)
}

// seconds is how long the job takes, as the plan has it.
func (j *Job) seconds() float64 {
	p := j.pace(nil)
	return seconds(j.paced(p), p.machine(j.Layout))
}

func seconds(moves move.Batches, m timing.Machine) float64 {
	watch := timing.NewStopwatch(m)
	for piece := range moves {
		for i := range piece {
			watch.See(&piece[i])
		}
	}
	watch.Done()
	return watch.Seconds
}

func speedNote(l *layout.Layout, r *run) string {
	if o := r.ProveOut; o != nil {
		return fmt.Sprintf("a prove-out goes at a quarter of that, and at %g mm/s at most", o.Speed)
	}
	most := l.Cell.Machine.Speed
	for _, f := range l.AllFigures() {
		if most.IsSet() && max(f.Travel.V, f.Near.V, f.Loaded.V)*1.1 > most.V {
			return "+10 % exceeds the machine's limit"
		}
	}
	return ""
}

func accelerationNote(l *layout.Layout, _ *run) string {
	m := &l.Cell.Machine
	if !m.Acceleration.IsSet() && !m.Rotation.Acceleration.IsSet() && (l.Arm == nil || l.Arm.Accelerations == [arm.MaxJoints]float64{}) {
		return "not given in the cell, so a change has no effect here"
	}
	return "+10 % may exceed the machine's limit"
}
