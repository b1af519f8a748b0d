package nest

import (
	"gridferry/gen/layout"
	"gridferry/gen/loops"
	"gridferry/gen/slot"
)

// Tables gathers what stands before the loops of a layout; grids that no entry uses are left out.
func Tables(l *layout.Layout) loops.Tables {
	used := map[*layout.Grid]bool{}
	for _, e := range l.Entries {
		for i := range e.Stops {
			used[e.Stops[i].Grid] = true
		}
	}
	t := loops.Tables{Arm: armOf(l.Figures(nil, nil))}
	for _, g := range l.Grids {
		if used[g] {
			t.Grids = append(t.Grids, gridOf(g))
		}
	}
	return t
}

func armOf(f *layout.Figures) loops.Arm {
	a := loops.Arm{
		Place: f.Place, Tool: f.Tool.Name, ToolNumber: f.Tool.Number, Approach: f.Approach.V, Travel: f.Travel.V, Near: f.Near.V, FlyBy: f.FlyBy.V,
		Grip: actionOf(&f.Tool.Grip), Release: actionOf(&f.Tool.Release),
	}
	if h := f.Tool.Grip.Holds; h != nil {
		a.Holds = &loops.Holds{Input: h.Input, Level: h.Level, Within: h.Within}
	}
	a.Clear, a.Start = poseOf(f.Clear), poseOf(f.Start)
	return a
}

func poseOf(w *layout.NamedPose) *loops.Pose {
	if w == nil {
		return nil
	}
	return &loops.Pose{Name: w.Name, Frame: w.Frame.Name, FrameNumber: w.Frame.Number, At: w.In}
}

func actionOf(a *layout.Action) loops.Action {
	out := loops.Action{Output: a.Output, Level: a.Level, Settle: a.Settle}
	for i := range a.More {
		out.More = append(out.More, moveOf(&a.More[i]))
	}
	return out
}

func gridOf(g *layout.Grid) loops.Grid {
	origin, _ := g.Points(slot.Slot{})
	form := g.Pattern.Form()
	t := loops.Grid{
		Place: g.Place, Name: g.Name, Frame: g.Frame.Name, FrameNumber: g.Frame.Number, Rows: g.Rows, Columns: g.Columns, Layers: g.Layers,
		First: origin.Vec, Turn: origin.RPY, Column: form.Column, Row: form.Row, Layer: form.Layer, Shift: form.Stagger,
	}
	switch {
	case form.Cornered:
		for _, s := range g.Pattern.Corners() {
			t.Corners = append(t.Corners, slotOf(g, s))
		}
	case !form.Even():
		for i := range g.Size() {
			if !g.Missing.Has(i) {
				t.Slots = append(t.Slots, slotOf(g, g.Slot(i)))
			}
		}
	}
	return t
}

func slotOf(g *layout.Grid, s slot.Slot) loops.Slot {
	at, turned := g.Pattern.At(s)
	return loops.Slot{Row: int(s.Row) + 1, Column: int(s.Col) + 1, Layer: int(s.Layer) + 1, At: at, Turned: turned}
}
