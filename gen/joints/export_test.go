package joints

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// ChooseOfAll is Choose without asking for one configuration alone first; wholly says whether that would do.
func ChooseOfAll(l *layout.Layout, moves move.Batches) (of *Choice, wholly bool) {
	c := &Choice{b: newBench(l)}
	wholly = c.wholly(moves) != nil
	c.forget()
	c.runs = chosen(c.b, c.spans(moves))
	c.wind = c.leastWinding(moves)
	return c, wholly
}

// Forget has the turns chosen anew without the solutions that were found on the way to a choice.
func (c *Choice) Forget(moves move.Batches) {
	c.forget()
	c.wind = c.leastWinding(moves)
	c.forget()
}

func (c *Choice) forget() {
	c.solved.Clear()
	c.count.Store(0)
}
