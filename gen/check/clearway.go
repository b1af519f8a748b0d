package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// clearWay asks for a pose between grids.
var clearWay = Rule{
	Finds: []manual.Page{{
		Name:     "no-clear-pose",
		Severity: diag.Warning,
		Doc: `Parts go from one grid to another, and "motion" names no clear pose: the arm
travels from one approach point to the other by whatever path the controller
chooses. "clear: none" says that this is meant; "entry" poses on the way will do, too.`,
		Do:  `Add "clear:" to "motion", with a pose high above everything.`,
		Bad: "-  clear: clear\n",
		Good: "-  clear: clear\n" +
			"-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n+  - {from: \"tray B1:B2\", to: \"tray A1:A2\"}\n" +
			"-  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: all}\n" +
			"+  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: \"B1:B3\"}\n",
	}},
	Layout: checkClearWay,
}

func checkClearWay(c *Context) {
	for _, e := range c.Layout.Entries {
		for i := range e.Legs {
			from, to := e.Legs[i].From.Grid, e.Legs[i].To.Grid
			f := c.Layout.Figures(e, to)
			posed := len(f.Entry) > 0 || len(c.Layout.Figures(e, from).Entry) > 0
			if f.ClearPlace.IsZero() && !posed && from != to && e.Parts > 0 {
				c.reportClearWay(f, e, from, to)
			}
		}
	}
}

func (c *Context) reportClearWay(f *layout.Figures, e *layout.Entry, from, to *layout.Grid) {
	c.find("no-clear-pose", f.Place, "the arm goes from %q to %q, and no clear pose is on the way", from.Name, to.Name).
		note(e.Place, "the first such way is here").
		hint("add \"clear:\" to \"motion\", with a pose high above everything")
}
