package layout

import (
	"fmt"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Figures are how the arm moves, and with which tool, in one thing that it does.
// What "motion" says in the plan, in a grid or in an entry is asked for here and nowhere
// else.
type Figures struct {
	Number       int        // in the list of all; 0 are the plan's own
	Of           string     // what they rule: "grid tray", "entry 3 at tray"; "" of the plan
	Place        diag.Place // of the settings
	Tool         *Tool
	ToolPlace    diag.Place   // where the plan names it
	Approach     plan.Real    // mm, from a slot to its approach point
	Travel       plan.Real    // mm/s
	Near         plan.Real    // mm/s
	Loaded       plan.Real    // mm/s, of travels with a part
	FlyBy        plan.Real    // mm
	Clear        *NamedPose   // passed before a pick and before a place; nil for none
	ClearPlace   diag.Place   // where that is said
	Entry        []*NamedPose // passed on the way into the grid
	EntryPlace   diag.Place   // where they are named
	ReleaseAbove plan.Real    // mm, from a slot to where a part is let go
	AlongPlace   diag.Place   // where the direction of the approach is written; zero where it is not
	// Configuration is that in which the arm has to work there, where the plan asks for one.
	Configuration      arm.Configuration
	ConfigurationPlace diag.Place // where it asks; zero where it does not
	Start              *NamedPose // that every program begins from; nil for none
	StartPlace         diag.Place // where the plan names it; zero where it is the clear pose without a word
	StopPlace          diag.Place // where an optional stop after a transfer is asked for; zero where it is not

	alongTool bool     // the approach is along the tool's axis
	along     geom.Vec // else the direction of the approach in the frame, of length 1
}

// Figures are those that rule what an entry does at a grid, a pick or a place and
// the ways to it; the entry's, the grid's and the plan's, the nearest first. Both are
// nil for what belongs to no entry, and the entry for a grid that is looked at by itself.
func (l *Layout) Figures(e *Entry, g *Grid) *Figures {
	if e != nil && e.figures != nil {
		for i := range e.Stops {
			if e.Stops[i].Grid == g {
				return l.figures[e.figures[i]]
			}
		}
	}
	if g != nil {
		return l.figures[g.figures]
	}
	return l.figures[0]
}

// FiguresOf are those that a move of the list was made by.
func (l *Layout) FiguresOf(m *move.Move) *Figures { return l.figures[m.Figures] }

// AllFigures is every one that the plan has, its own first. Who changes them changes the plan.
func (l *Layout) AllFigures() []*Figures { return l.figures }

// Zones is those in which an entry carries its parts: the tool itself where it has none.
func (f *Figures) Zones(e *Entry) []*Tool {
	if f.Tool.Zones == nil {
		return []*Tool{f.Tool}
	}
	return f.Tool.Zones[:max(1, min(e.AtOnce, e.Parts))]
}

// Copy is the same layout with figures and tools of its own, to change them.
func (l *Layout) Copy() *Layout {
	c := *l
	c.Tools, c.figures = nil, nil
	for _, t := range l.Tools {
		own := *t
		c.Tools = append(c.Tools, &own)
	}
	for _, t := range c.Tools {
		if t.Zones != nil {
			first := t.Zones[0].Number - 1
			t.Zones = c.Tools[first : first+len(t.Zones)]
		}
	}
	for _, f := range l.figures {
		own := *f
		own.Tool = c.Tools[f.Tool.Number-1]
		c.figures = append(c.figures, &own)
	}
	return &c
}

// Above is the tool's pose at the approach point of a slot, in the grid's frame
// and in the base.
func (f *Figures) Above(g *Grid, s slot.Slot) (in, base move.Point) {
	f.SetAbove(&in, &base, g, s)
	return in, base
}

// SetAbove is Above, as SetPoints is Points.
func (f *Figures) SetAbove(in, base *move.Point, g *Grid, s slot.Slot) {
	g.SetPoints(in, base, s, f.off(g, s, f.Approach.V))
}

// SetLetGo is the tool's pose where it lets a part go that goes into a slot, likewise.
func (f *Figures) SetLetGo(in, base *move.Point, g *Grid, s slot.Slot) {
	g.SetPoints(in, base, s, f.off(g, s, f.ReleaseAbove.V))
}

// off leads so far away from a slot.
func (f *Figures) off(g *Grid, s slot.Slot, distance float64) geom.Vec {
	if distance == 0 {
		return geom.Vec{}
	}
	return f.Away(g, s).Scale(distance)
}

// Away is the direction from a slot to its approach point, in the grid's frame, of length 1.
func (f *Figures) Away(g *Grid, s slot.Slot) geom.Vec {
	if !f.alongTool {
		return f.along
	}
	back := g.turn.Column(2).Scale(-1)
	if _, turned := g.Pattern.At(s); turned != 0 {
		return geom.RotZ(turned).Apply(back)
	}
	return back
}

// Direction is that of the approach in a grid's frame, of length 1, or that it leads back along
// the tool's axis.
func (f *Figures) Direction() (along geom.Vec, tool bool) { return f.along, f.alongTool }

// Lift leads from a slot of a grid to its approach point, in the base.
func (f *Figures) Lift(g *Grid, s slot.Slot) geom.Vec {
	return g.Frame.Base.R.Apply(f.Away(g, s)).Scale(f.Approach.V)
}

// upright is the direction of the approach where none is written.
var upright = geom.Vec{Z: 1}

// figures are the plan's own, and those of grids that have some.
func (r *resolver) figures() {
	m := &r.plan.Motion
	f := Figures{Place: m.Place, along: upright, Start: r.namedPose(m.Start), StartPlace: m.Start.Place}
	f.take(r.named(m))
	if !m.Start.IsSet() {
		f.Start = f.Clear
	}
	r.out.figures = []*Figures{&f}
	for _, g := range r.out.Grids {
		if m := g.Source.Motion; m != nil {
			g.figures = r.out.add(f, r.named(m), "grid "+g.Name)
		}
	}
}

// ofEntry gives an entry that has some figures of its own.
func (r *resolver) ofEntry(e *Entry, t *plan.Transfer) {
	if t.Motion == nil {
		return
	}
	e.own = t.Motion
	m := r.named(t.Motion)
	of := map[int]int{} // by the figures that rule there without it
	for i := range e.Stops {
		under := e.Stops[i].Grid.figures
		if _, known := of[under]; !known {
			name := fmt.Sprintf("entry %d", len(r.out.Entries)+1)
			if under > 0 {
				name += " at " + e.Stops[i].Grid.Name
			}
			of[under] = r.out.add(*r.out.figures[under], m, name)
		}
		e.figures = append(e.figures, of[under])
	}
}

// named is a motion with what its names stand for.
type named struct {
	*plan.Motion
	tool  *Tool
	clear *NamedPose
	entry []*NamedPose

	configuration arm.Configuration
}

func (r *resolver) named(m *plan.Motion) named {
	n := named{Motion: m, tool: r.tool(m.Tool), configuration: r.configuration(m.Configuration)}
	if m.Clear.V != plan.NoPose {
		n.clear = r.namedPose(m.Clear)
	}
	for _, name := range m.Entry.Poses {
		if p := r.namedPose(name); p != nil {
			n.entry = append(n.entry, p)
		}
	}
	return n
}

// add adds figures that are others where a nearer motion says so; their number.
func (l *Layout) add(f Figures, nearer named, of string) int {
	f.Number, f.Of, f.Place = len(l.figures), of, nearer.Place
	f.take(nearer)
	l.figures = append(l.figures, &f)
	return f.Number
}

// take puts in what a motion says.
func (f *Figures) take(m named) {
	for _, key := range []struct{ to, from *plan.Real }{
		{&f.Approach, &m.Approach}, {&f.Travel, &m.Travel}, {&f.Near, &m.Near}, {&f.Loaded, &m.Loaded},
		{&f.FlyBy, &m.FlyBy}, {&f.ReleaseAbove, &m.ReleaseAbove},
	} {
		if key.from.IsSet() {
			*key.to = *key.from
		}
	}
	switch a := &m.Along; {
	case a.Direction.IsSet():
		f.alongTool, f.AlongPlace = false, a.Direction.Place
		f.along, _ = vec(a.Direction).Unit()
	case a.Word.IsSet():
		f.alongTool, f.along, f.AlongPlace = a.Word.V == plan.AlongTool, upright, a.Word.Place
	}
	if m.Tool.IsSet() {
		f.Tool, f.ToolPlace = m.tool, m.Tool.Place
	}
	if m.Clear.IsSet() {
		f.Clear, f.ClearPlace = m.clear, m.Clear.Place
	}
	if m.Entry.IsSet() {
		f.Entry, f.EntryPlace = m.entry, m.Entry.Place
	}
	if m.Configuration.IsSet() {
		f.Configuration, f.ConfigurationPlace = m.configuration, m.Configuration.Place
	}
	if m.OptionalStop.IsSet() {
		f.StopPlace = diag.Place{}
		if m.OptionalStop.V == plan.AfterTransfer {
			f.StopPlace = m.OptionalStop.Place
		}
	}
}

// Speed is that of a travel, with a part in the gripper or without, mm/s.
func (f *Figures) Speed(loaded bool) float64 {
	if loaded && f.Loaded.IsSet() {
		return f.Loaded.V
	}
	return f.Travel.V
}

// Along is the direction of the approach in words; "" where it is +Z of the frame.
func (f *Figures) Along() string {
	switch {
	case f.alongTool:
		return "back along the tool's axis"
	case f.along == upright:
		return ""
	}
	return fmt.Sprintf("[%.4g, %.4g, %.4g] in the frame", f.along.X, f.along.Y, f.along.Z)
}

// HasMotion says whether a grid has a motion of its own.
func (g *Grid) HasMotion() bool { return g.Source.Motion != nil }

// Words are a motion as it is written.
type Words = plan.Motion

// Own is what an entry itself says of how the arm moves, for who writes it again; nil for
// nothing.
func (e *Entry) Own() *Words { return e.own }
