package check

import (
	"cmp"
	"fmt"
	"slices"

	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// stackGap finds stacks that begin in the air above another one.
var stackGap = Rule{
	Finds: []manual.Page{{
		Name:     "stack-above-nothing",
		Severity: diag.Error,
		Doc: `A stack of boxes begins more than 5 mm above the top that another stack on the same footprint
would have with a box in every slot. Unless a shelf is there, its boxes would be let go in
the air and fall.`,
		Do:   `Set "first" of the upper stack on the top of the lower one.`,
		Bad:  stackedOn(90),
		Good: stackedOn(60),
	}},
	Layout: checkStackGaps,
}

// stackedOn is one stack above another, which is 60 mm high.
func stackedOn(height int) manual.Example {
	const tray = "  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: all}\n"
	return manual.Example(fmt.Sprintf("-%s+%[1]s+  lower: {frame: right, boxes: {layers: 2}, pallet: [60, 60], first: [300, 0, 0], part: block}\n"+
		"+  upper: {frame: right, boxes: {layers: 1}, pallet: [60, 60], first: [300, 0, %d], part: block}\n", tray, height))
}

func checkStackGaps(c *Context) {
	var all []Stacked
	for _, g := range c.Layout.Grids {
		if g.Stacked() {
			all = append(all, Stacked{Grid: g})
		}
	}
	for _, pile := range onOneFootprint(all) {
		slices.SortStableFunc(pile, func(a, b Stacked) int { return cmp.Compare(a.Grid.PalletCorner().Z, b.Grid.PalletCorner().Z) })
		highest := &pile[0]
		for i := range pile[1:] {
			s := &pile[i+1]
			c.gapUnder(s, highest)
			if s.top() > highest.top() {
				highest = s
			}
		}
	}
}

// gapUnder reports the room between a stack and the one below it.
func (c *Context) gapUnder(s, below *Stacked) {
	corner := s.Grid.PalletCorner()
	gap := corner.Z - below.top()
	if gap <= sheet {
		return
	}
	c.find("stack-above-nothing", cmp.Or(s.Grid.Source.First.Place, s.Grid.Place), "the stack %q begins %s mm above the top of the stack %q", s.Grid.Name, figure(gap), below.Grid.Name).
		hint("\"first: [%s, %s, %s]\" puts it onto that; where a shelf bears it, give the shelf a frame of its own", figure(corner.X), figure(corner.Y), figure(below.top()))
}

// top is how high the stack ends with a box in every slot, in its frame.
func (s *Stacked) top() float64 {
	return s.Grid.PalletCorner().Z + float64(float64(s.Grid.Layers)*s.Grid.Part.Size.Z)
}
