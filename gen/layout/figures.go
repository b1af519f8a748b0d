package layout

import (
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Figures are how the arm moves, and with which tool, in one thing that it does.
// What the plan's "motion" says is asked for here and nowhere else.
type Figures struct {
	Place      diag.Place // of the settings
	Tool       *Tool
	ToolPlace  diag.Place // where the plan names it
	Approach   plan.Real  // mm, from a slot to the point above it
	Travel     plan.Real  // mm/s
	Near       plan.Real  // mm/s
	FlyBy      plan.Real  // mm
	Clear      *NamedPose // passed before a pick and before a place; nil for none
	ClearPlace diag.Place // where the plan names it
	Start      *NamedPose // that every program begins from; nil for none
	StartPlace diag.Place // where the plan names it; zero where it is the clear pose without a word
	StopPlace  diag.Place // where an optional stop after a transfer is asked for; zero where it is not
}

// Figures are those that rule what an entry does at a grid, a pick or a place and
// the travels there: the plan's own, since neither entries nor grids have any. Both
// are nil for what belongs to no entry.
func (l *Layout) Figures(_ *Entry, _ *Grid) *Figures { return &l.motion }

// FiguresOf are those that a move of the list was made by.
func (l *Layout) FiguresOf(m *move.Move) *Figures {
	e, _ := l.EntryOf(m.Transfer)
	if e == nil {
		return l.Figures(nil, nil)
	}
	return l.Figures(e, e.Stops[max(m.Stop(), m.Leg-1, 0)].Grid)
}

// AllFigures is every one that the plan has. Who changes them changes the plan.
func (l *Layout) AllFigures() []*Figures { return []*Figures{&l.motion} }

// UsedTools is every tool that the plan works with, each once.
func (l *Layout) UsedTools() []*Tool {
	var used []*Tool
	for _, f := range l.AllFigures() {
		if !slices.Contains(used, f.Tool) {
			used = append(used, f.Tool)
		}
	}
	return used
}

// Copy is the same layout with figures and tools of its own, to change them.
func (l *Layout) Copy() *Layout {
	c := *l
	c.Tools = nil
	for _, t := range l.Tools {
		own := *t
		c.Tools = append(c.Tools, &own)
	}
	for _, f := range c.AllFigures() {
		f.Tool = c.Tools[f.Tool.Number-1]
	}
	return &c
}

// Above is the tool's pose at the approach point of a slot, in the grid's frame
// and in the base.
func (f *Figures) Above(g *Grid, s slot.Slot) (in, base move.Point) {
	return g.Points(s, f.Approach.V)
}

// Lift leads from any slot of a grid to its approach point, in the base.
func (f *Figures) Lift(g *Grid) geom.Vec { return g.Frame.Base.R.Column(2).Scale(f.Approach.V) }

func (r *resolver) figures() {
	m := &r.plan.Motion
	r.out.motion = Figures{
		Place: m.Place, Tool: r.tool(m.Tool), ToolPlace: m.Tool.Place, Approach: m.Approach, Travel: m.Travel, Near: m.Near,
		FlyBy: m.FlyBy, Clear: r.namedPose(m.Clear), ClearPlace: m.Clear.Place, Start: r.namedPose(m.Start), StartPlace: m.Start.Place,
	}
	if !m.Start.IsSet() {
		r.out.motion.Start = r.out.motion.Clear
	}
	if m.OptionalStop.V == plan.AfterTransfer {
		r.out.motion.StopPlace = m.OptionalStop.Place
	}
}
