package layout

import (
	"strconv"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// Flow is whether parts come to a grid's slots, or leave them, by themselves.
type Flow uint8

// The flows.
const (
	Still Flow = iota // what stands there is what people and transfers put there
	In                // each slot holds a part whenever one is asked for: an infeed
	Out               // each slot is free whenever a part is put down: a chute
)

// Feeder reports whether the grid is one: as many parts may be taken from it, or put
// into it, as anybody asks for.
func (g *Grid) Feeder() bool { return g.Flow != Still }

// Words say what stands in a feeder's slots.
func (f Flow) Words() string {
	if f == In {
		return "a part in each slot whenever one is asked for"
	}
	return "each slot free whenever a part is put down"
}

// Take is what remains in a set of full slots when the part in slot i was taken.
func (g *Grid) Take(full Slots, i int) {
	if !g.Feeder() {
		full.Remove(i)
	}
}

// Put is the set of full slots when a part was put into slot i.
func (g *Grid) Put(full Slots, i int) {
	if !g.Feeder() {
		full.Add(i)
	}
}

// flow settles which way the parts of a grid go, and what that asks of the grid.
func (r *resolver) flow(grid *Grid, g *plan.Grid) bool {
	switch g.Flow.V {
	case plan.FlowIn:
		grid.Flow = In
	case plan.FlowOut:
		grid.Flow = Out
	default:
		return true
	}
	if grid.Layered() {
		r.list.Errorf("feeder-layers", g.Flow.Place, "the grid %q flows %s and has %d layers", grid.Name, g.Flow.V, grid.Layers).
			WithHint("a feeder has one layer; parts that stand on each other are a grid with \"filled\"")
		return false
	}
	if grid.Flow == In && !g.Part.IsSet() && !g.Written.Has("part") {
		r.noPart(grid, g.Flow.Place, "flows in")
	}
	return true
}

// withFlow holds the stops of an entry to the ways in which feeders flow: from an infeed parts
// are taken, into a chute they are put, and no part stops over in either.
func (c *chooser) withFlow() bool {
	last := len(c.e.Stops) - 1
	for i := range c.e.Stops {
		switch g := c.e.Stops[i].Grid; {
		case g.Flow == In && i > 0:
			c.r.intoInfeed(g, c.e.Stops[i].Place)
			return false
		case g.Flow == Out && i < last:
			c.r.fromChute(g, c.e.Stops[i].Place)
			return false
		}
	}
	return true
}

func (r *resolver) intoInfeed(g *Grid, at diag.Place) {
	r.list.Errorf("against-flow", at, "a part is put into %q, which flows in: each of its slots holds a part already", g.Name).
		WithNote(g.Source.Flow.Place, "it is said here").WithHint("take from it only, or leave \"flow\" out and say what is \"filled\"")
}

func (r *resolver) fromChute(g *Grid, at diag.Place) {
	r.list.Errorf("against-flow", at, "a part is taken from %q, which flows out: none stays there", g.Name).
		WithNote(g.Source.Flow.Place, "it is said here").WithHint("put into it only, or leave \"flow\" out and say what is \"filled\"")
}

// unbounded settles how many parts go from feeder to feeder, where only "take" can say that.
func (c *chooser) unbounded() (need, bool) {
	if c.t.Take.IsSet() {
		return need{parts: c.t.Take.V, stop: 0}, true
	}
	c.r.list.Errorf("count-unknown", c.e.Place, "nothing says how many parts go: %s and %s take and give as many as are asked for",
		strconv.Quote(c.text(0)), strconv.Quote(c.text(len(c.e.Stops)-1))).
		WithHint("add \"take:\" with a number")
	return need{}, false
}
