package gen

import (
	"gridferry/gen/check"
	"gridferry/gen/margin"
	"gridferry/gen/move"
	"gridferry/gen/timing"
)

// counter counts the moves while the rules check them.
type counter struct{ move.Counts }

func (c *counter) See(m *move.Move, _ *check.Scene) { c.Counts.See(m) }
func (*counter) Kinds() []move.Kind                 { return move.Kinds }
func (*counter) Done()                              {}

// stopwatch times the moves, as the plan has them, while the rules check them.
type stopwatch struct{ *timing.Stopwatch }

func (s stopwatch) See(m *move.Move, _ *check.Scene) { s.Stopwatch.See(m) }
func (stopwatch) Kinds() []move.Kind                 { return move.Kinds }

// stopwatch is one for the job's moves.
func (j *Job) stopwatch() stopwatch {
	return stopwatch{timing.NewStopwatch(j.pace(nil).machine(j.Layout))}
}

// nearness is the margins with which the arm works, measured while the rules check the moves.
type nearness struct{ *margin.Slots }

func (n nearness) See(m *move.Move, _ *check.Scene) { n.Slots.See(m) }
func (nearness) Kinds() []move.Kind {
	return append(move.Motions[:len(move.Motions):len(move.Motions)], move.Handlings...)
}
func (nearness) Done() {}
