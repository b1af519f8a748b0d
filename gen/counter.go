package gen

import (
	"gridferry/gen/check"
	"gridferry/gen/margin"
	"gridferry/gen/move"
)

// counter counts the moves while the rules check them.
type counter struct{ move.Counts }

func (c *counter) See(m *move.Move, _ *check.Scene) { c.Counts.See(m) }
func (*counter) Kinds() []move.Kind                 { return move.Kinds }
func (*counter) Done()                              {}

// nearness is the margins with which the arm works, measured while the rules check the moves.
type nearness struct{ *margin.Slots }

func (n nearness) See(m *move.Move, _ *check.Scene) { n.Slots.See(m) }
func (nearness) Kinds() []move.Kind {
	return append(move.Motions[:len(move.Motions):len(move.Motions)], move.Handlings...)
}
func (nearness) Done() {}
