package check

import (
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// pallet compares the parts of a grid with the footprint that they stand on.
var pallet = Rule{
	Finds: []Find{{
		Name:     "part-over-edge",
		Severity: diag.Error,
		Doc: `A part of a grid with "pallet" stands over the pallet's edge. The pallet reaches from
the frame's origin along +X and +Y, in a size of ISO 6780; a part stands square to the
frame, its middle at the slot.`,
		Bad:  palletGrid("[15, 14.5, 15]"),
		Good: palletGrid("[15, 15, 15]"),
	}, {
		Name:     "pallet-unchecked",
		Severity: diag.Warning,
		Doc: `A grid with "pallet" does not say which part it holds, or that part has no size, so
that only the middles of the slots can be held to the pallet's edge.`,
		Bad:  "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], pallet: 1200x800}\n",
		Good: palletGrid("[15, 15, 15]"),
	}},
	Layout: func(c *Context) {
		for _, g := range c.Layout.Grids {
			if g.Source.Pallet != nil {
				checkPallet(c, g)
			}
		}
	},
}

// palletGrid is the example plan with its rack on a pallet, slot A1 where it is said.
func palletGrid(first string) Example {
	return Example(`-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: ` + first + `, part: block, pallet: 1200x800}
`)
}

func checkPallet(c *Context, g *layout.Grid) {
	name := g.Source.Pallet.Name
	if !g.Part.Sized() {
		c.find("pallet-unchecked", name.Place, "the parts of the grid %q have no known size, so only their middles are held to the pallet", g.Name).
			hint("add \"part:\" to the grid, and the part's \"size\" under \"parts\"")
	}
	worst, over, count := slot.Slot{}, touch, 0
	for i := range g.Size() {
		at := g.Slot(i)
		if g.Missing.Has(i) {
			continue
		}
		by := overEdge(g, at)
		if by > touch {
			count++
		}
		if by > over {
			worst, over = at, by
		}
	}
	if count > 0 {
		c.find("part-over-edge", name.Place, "%d of %d slots of the grid %q are over the edge of the pallet %s, by %s mm at %q",
			count, g.Size(), g.Name, name.V, strconv.FormatFloat(over, 'f', 2, 64), g.Label(worst)).
			hint("the pallet reaches from the origin of the frame %q along +X and +Y: move \"first\", change the pitch or leave slots out", g.Frame.Name)
	}
}

// overEdge is how far a part in a slot reaches over the edge, below 0 where it does not.
func overEdge(g *layout.Grid, s slot.Slot) float64 {
	at, turned := g.Pattern.At(s)
	var half geom.Vec
	if g.Part.Sized() {
		box := g.Part.Solid(geom.Pose{R: geom.RotZ(turned)})
		half = box.Reach()
	}
	size := g.Source.Pallet.Size
	return max(half.X-at.X, at.X+half.X-size[0], half.Y-at.Y, at.Y+half.Y-size[1])
}
