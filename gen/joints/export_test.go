package joints

import "gridferry/gen/move"

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
