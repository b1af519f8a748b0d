package explain

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Shaper is something in the plan or cell that a move depends on, beside the line
// that asked for it.
type Shaper struct {
	What  string
	Place diag.Place
}

// shapers are what a move depends on, the nearest first. Things on the same line
// come together.
func (c *cast) shapers(m *move.Move) []Shaper {
	all := shapers{}
	if e, _ := c.entry(m); e != nil {
		switch s := e.StopOf(m); {
		case s == nil || m.Target.Grid == "":
		case e.Listed != nil:
			all.add("the worklist with its line", e.Listed.Place)
		default:
			all.add("the stop that it works at", s.Place)
		}
	}
	for _, s := range c.byRole(m) {
		if n := len(all) - 1; n >= 0 && all[n].Place.File == s.Place.File && all[n].Place.Line == s.Place.Line {
			all[n].What += ", " + s.What
			continue
		}
		all = append(all, s)
	}
	return all
}

func (c *cast) byRole(m *move.Move) []Shaper {
	switch m.Role {
	case move.AskedBefore, move.Asked:
		if !m.Kind.IsMotion() {
			return nil
		}
	case move.TakeHold, move.HoldMore, move.HoldSettle:
		return c.ofGripper(m, "how the tool grips", c.l.FiguresOf(m).Tool.Grip.Place)
	case move.OpenFirst, move.OpenMore, move.OpenSettle, move.LetGo, move.FreeMore, move.FreeSettle:
		return c.ofGripper(m, "how the tool lets go", c.l.FiguresOf(m).Tool.Release.Place)
	case move.AskFirst, move.AskHeld, move.AskLoaded:
		return c.ofGripper(m, "how the tool tells whether it holds a part", c.l.FiguresOf(m).Tool.Grip.Holds.Place)
	case move.Selecting:
		return c.ofSelect(m)
	case move.LeaveTool, move.FetchTool, move.ChangeTool:
		return c.ofChange(m)
	case move.ToStart, move.LeaveDestination, move.LeaveSource, move.EnterSource, move.EnterDestination, move.ClearFirst, move.OverSource, move.DownSource, move.UpSource, move.ClearLoaded, move.OverDestination, move.DownDestination, move.UpDestination, move.ClearLast:
	}
	return c.ofMotion(m)
}

func (c *cast) ofGripper(m *move.Move, how string, at diag.Place) []Shaper {
	all := shapers{}
	all.add(how, at)
	all.add("the tool that the plan uses", c.l.FiguresOf(m).ToolPlace)
	if g := c.grids[m.Target.Grid]; g != nil {
		all.add("the grid \""+g.Name+"\"", g.Place)
	}
	return all
}

// ofChange is what a change of tool rests on: the steps of the tool, and the line that asks for
// another one.
func (c *cast) ofChange(m *move.Move) []Shaper {
	all, t := shapers{}, c.l.FiguresOf(m).Tool
	all.add("the tool that is needed from here on", c.l.FiguresOf(m).ToolPlace)
	switch {
	case !m.Role.Changing():
		return append(all, c.ofSelect(m)...)
	case m.Role == move.LeaveTool:
		all.add("how the tool before is left", c.before(m).LeavePlace)
	default:
		all.add("how the tool is fetched", t.FetchPlace)
	}
	if m.Kind.IsMotion() {
		return append(all, c.ofMotion(m)...)
	}
	return all
}

func (c *cast) ofSelect(m *move.Move) []Shaper {
	all := shapers{}
	if f := c.frames[m.Frame]; f != nil {
		all.add("the frame \""+f.Name+"\"", f.Place)
	}
	if t := c.tools[m.Tool]; t != nil {
		all.add("the tool \""+t.Name+"\"", t.Place)
	}
	if p := c.carried(m); p != nil {
		all.add("the part \""+p.Name+"\", with its mass", p.Place)
	}
	return all
}

func (c *cast) ofMotion(m *move.Move) []Shaper {
	all, by := shapers{}, c.l.FiguresOf(m)
	if w := c.poses[m.Target.Pose]; m.Target.Grid == "" && w != nil {
		all.ofPose(m, by)
		all.add("where \""+w.Name+"\" is", w.Place)
	}
	if g := c.grids[m.Target.Grid]; g != nil {
		all.ofGrid(g, m)
	}
	if f := c.frames[m.Frame]; f != nil {
		all.add("the frame \""+f.Name+"\", in which the figures are written", f.Place)
	}
	if m.Target.Approach {
		all.add("how far above the slot", by.Approach.Place)
		all.add("in which direction from the slot", by.AlongPlace)
	}
	if m.Role == move.DownDestination && by.ReleaseAbove.V > 0 {
		all.add("how far above the slot the part is let go", by.ReleaseAbove.Place)
		all.add("in which direction from the slot", by.AlongPlace)
	}
	which := "of travel"
	switch {
	case m.Kind != move.Travel || m.Careful():
		which = "near a slot"
	case atLoaded(c, m):
		which = "with a part"
	}
	all.add("how fast: speed "+which, speedOf(c, m, by))
	if m.FlyBy > 0 {
		all.add("how closely it may pass without a stop", by.FlyBy.Place)
	}
	return all
}

type shapers []Shaper

// ofPose is what says that a pose is gone to.
func (s *shapers) ofPose(m *move.Move, by *layout.Figures) {
	if m.Role.Wanted() {
		return // the step names it
	}
	if onEntry(m.Role) {
		s.add("the poses that lead into the grid", by.EntryPlace)
		return
	}
	if m.Role == move.ToStart {
		s.add("the pose that the plan calls start", by.StartPlace)
	}
	if m.Role != move.ToStart || by.StartPlace.IsZero() {
		s.add("the pose that the plan calls clear", by.ClearPlace)
	}
}

// add passes over what is not written, the base frame for instance.
func (s *shapers) add(what string, at diag.Place) {
	if !at.IsZero() {
		*s = append(*s, Shaper{what, at})
	}
}

func (s *shapers) ofGrid(g *layout.Grid, m *move.Move) {
	s.add("the grid \""+g.Name+"\"", g.Place)
	for _, b := range g.Basis {
		s.add(b.What, b.Place(m.Target.Slot))
	}
}
