package gen

import (
	"gridferry/gen/check"
	"gridferry/gen/move"
)

// counter counts along while the rules look.
type counter struct{ move.Counts }

func (c *counter) See(m *move.Move, _ *check.Scene) { c.Counts.See(m) }
func (*counter) Kinds() []move.Kind                 { return move.Kinds }
func (*counter) Done()                              {}
