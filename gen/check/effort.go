package check

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// effort is what was looked at near the arm and its parts, for one pass over the moves. A
// look is some 20 ns: a row or a slot is one, an exact comparison of two bodies is several.
type effort struct{ made, most int }

// What looks cost, and how many there may be. The demo plans need eight for a transfer at
// the most; where hundreds of grids lie in one room, or parts a hundredth of their size
// apart, every move meets all of them.
const (
	effortPerBody     = 10 // a body that may be near a part
	effortPerBase     = 50 // a part that may bear another one
	mostEffort        = 50_000_000
	effortPerTransfer = 100
	effortPerSwing    = 20_000 // likewise of a transfer by an arm, all of whose ways are looked at
)

func effortFor(l *layout.Layout) int {
	each := effortPerTransfer
	if l.Arm != nil {
		each += effortPerSwing
	}
	return mostEffort + each*l.Transfers()
}

func (e *effort) over() bool { return e.made > e.most }

// scene is a scene whose looks are counted for the context's findings.
func (c *Context) scene() *Scene {
	s := newScene(c.Layout)
	s.effort.most = c.most
	c.effort = s.effort
	return s
}

// crowded reports that the looks were used up, once, and whether they were: what is found
// after that means nothing.
func (c *Context) crowded(at diag.Place) bool {
	over := c.effort.over()
	if over && !c.gaveUp {
		c.gaveUp = true
		c.found.list.Errorf("too-crowded", at, "so much stands in one room that the checks up to here looked %d times at parts near each other, which is as often as may be", c.effort.most).
			WithHint("look for a pitch that is far smaller than its part, and for many grids in one place: a frame that was forgotten?")
	}
	return over
}
