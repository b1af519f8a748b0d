package explain

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// cast is who is who in a plan: it finds what a move's names and place stand for.
type cast struct {
	l       *layout.Layout
	grids   map[string]*layout.Grid
	frames  map[string]*layout.Frame
	tools   map[string]*layout.Tool
	poses   map[string]*layout.NamedPose
	entries map[diag.Place]int                  // by the entry's place and those of its steps, from 0
	numbers map[*layout.Step]map[diag.Place]int // of steps, by the first of them, once somebody has asked
}

func newCast(l *layout.Layout) *cast {
	c := &cast{
		l: l, grids: map[string]*layout.Grid{}, frames: map[string]*layout.Frame{}, tools: map[string]*layout.Tool{},
		poses: map[string]*layout.NamedPose{}, entries: map[diag.Place]int{}, numbers: map[*layout.Step]map[diag.Place]int{},
	}
	for _, g := range l.Grids {
		c.grids[g.Name] = g
	}
	for _, f := range l.Frames {
		c.frames[f.Name] = f
	}
	for _, t := range l.Tools {
		c.tools[t.Name] = t
	}
	for _, w := range l.Poses {
		c.poses[w.Name] = w
	}
	for i, e := range l.Entries {
		c.entries[e.Place] = i
		for s := range e.Stops {
			for _, steps := range [][]layout.Step{e.Stops[s].Before, e.Stops[s].Then} {
				for _, step := range steps {
					c.entries[step.Place] = i
				}
			}
		}
	}
	return c
}

// entry is the entry that a move belongs to, and its place in the list; nil for
// a move outside of all.
func (c *cast) entry(m *move.Move) (*layout.Entry, int) { return c.l.EntryOf(m.Transfer) }

// carried is the part that the gripper holds while a move is made; nil for none.
func (c *cast) carried(m *move.Move) *layout.Part {
	e, _ := c.entry(m)
	if e == nil {
		return nil
	}
	part := c.l.Carried(m)
	switch m.Role {
	case move.TakeHold, move.HoldMore, move.HoldSettle, move.AskHeld, move.UpSource, move.LeaveSource, move.ClearLoaded, move.EnterDestination, move.OverDestination, move.AskLoaded,
		move.DownDestination, move.LetGo:
		return part
	case move.ToStart:
		if c.l.Held != nil {
			return part
		}
	case move.Selecting, move.AskedBefore, move.Asked: // of steps, those that move the arm say what hangs on it
		if t := c.tools[m.Tool]; t != nil && m.Load != t.Mass {
			return part
		}
	case move.AskFirst, move.LeaveDestination, move.LeaveTool, move.ChangeTool, move.FetchTool, move.ClearFirst, move.OpenFirst, move.OpenMore, move.OpenSettle, move.EnterSource, move.OverSource, move.DownSource,
		move.FreeMore, move.FreeSettle, move.UpDestination, move.ClearLast:
	}
	return nil
}

// before is the tool that was on the flange before the one that a move's entry works with.
func (c *cast) before(m *move.Move) *layout.Tool {
	for change := range c.l.Changes() {
		if first, last := change.Entry.Span(); first <= m.Transfer && m.Transfer <= last {
			return change.From
		}
	}
	return c.l.FiguresOf(m).Tool
}

// inFrame reports whether a move's coordinates depend on a frame: written in it, or in
// one that is nested in it.
func (c *cast) inFrame(m *move.Move, name string) bool {
	for f := c.frames[m.Frame]; f != nil; f = f.Parent {
		if f.Name == name {
			return true
		}
	}
	return false
}
