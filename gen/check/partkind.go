package check

import (
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// partKind compares the part that goes into a grid with the one the grid is for.
var partKind = Rule{
	Finds: []manual.Page{{
		Name:     "wrong-part",
		Severity: diag.Error,
		Doc:      `A part goes to a grid that the plan says holds another one.`,
		Do:       `Name another grid, or correct "part" of one of the two.`,
		Bad:      "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: brick}\n",
		Good:     "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15]}\n",
	}},
	Layout: func(c *Context) {
		for _, e := range c.Layout.Entries {
			for _, p := range e.Kinds() {
				if e.Parts > 0 && e.Listed == nil {
					checkPartKind(c, e, p)
				}
			}
		}
	},
	Watch: func(c *Context) Watcher {
		if !slices.ContainsFunc(c.Layout.Entries, func(e *layout.Entry) bool { return e.Listed != nil }) {
			return nil
		}
		return &kindWatcher{c: c}
	},
}

func checkPartKind(c *Context, e *layout.Entry, p *layout.Part) {
	for _, s := range e.Stops[1:] {
		c.wrongPart(s.Place, p, s.Grid)
	}
}

func (c *Context) wrongPart(at diag.Place, p *layout.Part, to *layout.Grid) {
	if holds := to.Part; holds != nil && p != nil && holds != p {
		c.find("wrong-part", at, "the part %q goes to the grid %q, which holds the part %q", p.Name, to.Name, holds.Name).
			note(to.Source.Part.Place, "the grid's part is given here")
	}
}

// kindWatcher looks at the lines of worklists, each of which may carry another part.
type kindWatcher struct {
	still
	c *Context
}

func (w *kindWatcher) Kinds() []move.Kind { return []move.Kind{move.Release} }

func (w *kindWatcher) See(m *move.Move, s *Scene) {
	if s.Grid != nil && m.ListedAt > 0 {
		w.c.wrongPart(m.Place, s.Gripper.Part, s.Grid.Grid)
	}
}
