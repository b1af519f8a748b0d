package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Change is the steps by which the arm fetches a tool, or leaves one.
type Change struct {
	Place diag.Place // zero where nothing is written
	Steps []Step
}

func (c *Change) key(name, doc string) decode.Key {
	return decode.May(name, doc, decode.At(&c.Place, steps(&c.Steps))).Else("a person changes the tool")
}
