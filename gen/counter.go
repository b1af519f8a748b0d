package gen

import (
	"gridferry/gen/check"
	"gridferry/gen/move"
)

// counter counts the moves while the rules check them.
type counter struct{ move.Counts }

func (c *counter) See(m *move.Move, _ *check.Scene) { c.Counts.See(m) }
func (*counter) Kinds() []move.Kind                 { return move.Kinds }
func (*counter) Done()                              {}
