package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// mirrored looks for whole grids that are carried into their mirror image.
var mirrored = Rule{
	Finds: []manual.Page{{
		Name:     "rows-mirrored",
		Severity: diag.Warning,
		Doc: `A whole grid goes to another one of as many rows and columns whose rows run the other way:
seen from above the parts end as in a mirror, what lay to the left of a part lies to its
right. No turning of a tray does that. It may be meant, but more often a sign of "pitch"
is wrong.`,
		Do: `If rows are to keep their places, turn the sign of one "pitch" and move "first"; if not,
list the slots.`,
		Bad:  wholeTray + rackPitched("[50, -60], first: [30, 90, 15]"),
		Good: wholeTray + rackPitched("[-50, -60], first: [130, 90, 15]"),
	}},
	Layout: func(c *Context) {
		for _, e := range c.Layout.Entries {
			for i := 1; i < len(e.Stops); i++ {
				checkMirrored(c, &e.Stops[i-1], &e.Stops[i])
			}
		}
	},
}

const wholeTray = manual.Example(`-  - {from: "tray A1:A3", to: "rack A1:A3"}
+  - {from: tray, to: rack}
-  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}
`)

func rackPitched(pitch string) manual.Example {
	return manual.Example(`-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: ` + pitch + `, part: block}
`)
}

func checkMirrored(c *Context, from, to *layout.Stop) {
	a, b := from.Grid, to.Grid
	if !from.Whole || !to.Whole || a.Rows != b.Rows || a.Columns != b.Columns || hand(a)*hand(b) >= 0 {
		return
	}
	c.find("rows-mirrored", to.Place, "the parts of %q end mirrored in %q: there the rows run the other way", a.Name, b.Name).
		hint("where that is not meant, turn the sign of one \"pitch\" and move \"first\"")
}

// hand is above 0 where rows run to the left of columns, seen from above, below 0 where they run to
// the right, and 0 where a grid has rows or columns only.
func hand(g *layout.Grid) float64 {
	corners := g.Pattern.Corners()
	first := g.At(corners[0])
	along, down := g.At(corners[1]).Sub(first), g.At(corners[2]).Sub(first)
	return g.Frame.Base.R.Apply(along.Cross(down)).Z
}
