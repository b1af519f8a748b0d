package check

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// partKind compares the part that goes into a grid with the one the grid is for.
var partKind = Rule{
	Finds: []Find{{
		Name:     "wrong-part",
		Severity: diag.Error,
		Doc:      `A part goes to a grid that the plan says holds another one.`,
		Bad:      "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: brick}\n",
		Good:     "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15]}\n",
	}},
	Layout: func(c *Context) {
		for _, e := range c.Layout.Entries {
			if e.Parts > 0 && e.Part != nil {
				checkPartKind(c, e)
			}
		}
	},
}

func checkPartKind(c *Context, e *layout.Entry) {
	for _, s := range e.Stops[1:] {
		if holds := s.Grid.Part; holds != nil && holds != e.Part {
			c.find("wrong-part", s.Place, "the part %q goes to the grid %q, which holds the part %q", e.Part.Name, s.Grid.Name, holds.Name).
				note(s.Grid.Source.Part.Place, "the grid's part is given here")
		}
	}
}
