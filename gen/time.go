package gen

import (
	"fmt"
	"sync"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/timing"
)

// Clock is what the cell says about how quickly its machine moves.
func (j *Job) Clock() timing.Machine {
	m := &j.Layout.Cell.Machine
	return timing.Machine{
		Acceleration: m.Acceleration.V, Jerk: m.Jerk.V,
		TurnSpeed: m.Rotation.Speed.V, TurnAcceleration: m.Rotation.Acceleration.V,
	}
}

// Time estimates how long the job takes, and what changing one thing would do
// to that.
func (j *Job) Time() *timing.Report {
	report := j.measured()
	report.Changes = make([]timing.Change, len(levers))
	var all sync.WaitGroup
	for i := range levers {
		all.Go(func() { report.Changes[i] = j.pull(&levers[i], report.Seconds) })
	}
	all.Wait()
	return report
}

// measured is how long the job takes as it is.
func (j *Job) measured() *timing.Report {
	report := timing.Measure(j.Batches(), j.Clock())
	if o := j.run.ProveOut; o != nil && o.Empty() {
		report.Parts = 0 // its transfers go the way of parts and carry none
	}
	return report
}

// lever is one thing that can be changed: a copy of the layout and the machine
// are multiplied by a factor in one respect.
type lever struct {
	what string
	turn func(l *layout.Layout, m *timing.Machine, by float64)
	note func(j *Job) string
}

var levers = []lever{
	{"speed", func(l *layout.Layout, _ *timing.Machine, by float64) {
		l.Motion.Travel, l.Motion.Near = l.Motion.Travel*by, l.Motion.Near*by
	}, speedNote},
	{"acceleration", func(_ *layout.Layout, m *timing.Machine, by float64) {
		m.Acceleration, m.TurnAcceleration = m.Acceleration*by, m.TurnAcceleration*by
	}, accelerationNote},
	{"settle", func(l *layout.Layout, _ *timing.Machine, by float64) {
		tool := *l.Motion.Tool
		tool.Grip.Settle, tool.Release.Settle = tool.Grip.Settle*by, tool.Release.Settle*by
		l.Motion.Tool = &tool
	}, nil},
	{"approach", func(l *layout.Layout, _ *timing.Machine, by float64) { l.Motion.Approach *= by }, nil},
}

// pull tells what 10 % less and 10 % more of one thing add to the whole time.
func (j *Job) pull(lever *lever, seconds float64) timing.Change {
	c := timing.Change{What: lever.what}
	if lever.note != nil {
		c.Note = lever.note(j)
	}
	c.Less, c.More = j.timeWith(lever, 0.9)-seconds, j.timeWith(lever, 1.1)-seconds
	return c
}

func (j *Job) timeWith(lever *lever, by float64) float64 {
	l, m := *j.Layout, j.Clock()
	lever.turn(&l, &m, by)
	same := Job{Layout: &l, run: j.run, start: j.start, state: j.state} // the same run, nobody watching
	return seconds(same.Batches(), m)
}

func seconds(moves move.Batches, m timing.Machine) float64 {
	total := 0.0
	for t := range timing.Times(moves, m) {
		total += t.Seconds
	}
	return total
}

func speedNote(j *Job) string {
	if o := j.run.ProveOut; o != nil {
		return fmt.Sprintf("a first run goes no faster than %g mm/s, whatever the plan says", o.Speed)
	}
	most := j.Layout.Cell.Machine.Speed
	if m := &j.Layout.Motion; most.IsSet() && max(m.Travel, m.Near)*1.1 > most.V {
		return "10 % more is above the machine's own limit"
	}
	return ""
}

func accelerationNote(j *Job) string {
	if m := &j.Layout.Cell.Machine; !m.Acceleration.IsSet() && !m.Rotation.Acceleration.IsSet() {
		return "not known, so a change shows nothing"
	}
	return "the machine's own; 10 % more may not be to be had"
}
