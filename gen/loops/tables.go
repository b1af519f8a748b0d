package loops

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// Tables is what stands before the loops: where the grids are, and what the
// routines for a pick and a place need.
type Tables struct {
	Grids []Grid
	Arm   Arm
}

// Grid is where the slots of a grid are, in its frame. A slot stands at First and
// its column's, its row's and its layer's offset; a grid whose corners were touched
// has its corners instead.
type Grid struct {
	Place                 diag.Place
	Name                  string
	Frame                 string
	FrameNumber           int
	Rows, Columns, Layers int
	First                 geom.Vec
	Turn                  geom.RPY
	Column, Row, Layer    float64 // mm, the steps along X, Y and Z
	Shift                 float64 // mm along X, of rows 2, 4, 6 …
	Corners               []Corner
}

// Corner is a slot and where it stands.
type Corner struct {
	Row, Column int // from 1
	At          geom.Vec
}

// Arm is what every pick and place has in common.
type Arm struct {
	Place              diag.Place
	Tool               string
	ToolNumber         int
	Approach           float64 // mm
	Travel, Near       float64 // mm/s
	FlyBy              float64 // mm
	HasClear           bool
	Clear, ClearFrame  string
	ClearAt            move.Point // in ClearFrame
	ClearFrameNumber   int
	Grip, Release      Signal
	StopsAfterTransfer bool
}

// Signal is an output, its level, and the wait after it in seconds.
type Signal struct {
	Output int
	Level  bool
	Settle float64
}

// TablesOf gathers the tables of a layout; grids that no entry uses are left out.
func TablesOf(l *layout.Layout) Tables {
	used := map[*layout.Grid]bool{}
	for _, e := range l.Entries {
		for i := range e.Stops {
			used[e.Stops[i].Grid] = true
		}
	}
	t := Tables{Arm: armOf(&l.Motion)}
	for _, g := range l.Grids {
		if used[g] {
			t.Grids = append(t.Grids, gridOf(g))
		}
	}
	return t
}

func armOf(m *layout.Motion) Arm {
	a := Arm{
		Place: m.Place, Tool: m.Tool.Name, ToolNumber: m.Tool.Number, Approach: m.Approach, Travel: m.Travel, Near: m.Near, FlyBy: m.FlyBy,
		Grip:               Signal{m.Tool.Grip.Output, m.Tool.Grip.Level, m.Tool.Grip.Settle},
		Release:            Signal{m.Tool.Release.Output, m.Tool.Release.Level, m.Tool.Release.Settle},
		StopsAfterTransfer: !m.StopPlace.IsZero(),
	}
	if w := m.Clear; w != nil {
		a.HasClear, a.Clear, a.ClearFrame, a.ClearFrameNumber, a.ClearAt = true, w.Name, w.Frame.Name, w.Frame.Number, w.In
	}
	return a
}

// gridOf measures the steps of a grid on its own slots.
func gridOf(g *layout.Grid) Grid {
	origin, _ := g.Points(slot.Slot{}, 0)
	t := Grid{
		Place: g.Place, Name: g.Name, Frame: g.Frame.Name, FrameNumber: g.Frame.Number, Rows: g.Rows, Columns: g.Columns, Layers: g.Layers,
		First: origin.Vec, Turn: origin.RPY, Layer: g.Source.LayerPitch.V,
	}
	if g.Fit != nil {
		for _, s := range []slot.Slot{{}, {Col: int32(g.Columns - 1)}, {Row: int32(g.Rows - 1)}, {Row: int32(g.Rows - 1), Col: int32(g.Columns - 1)}} {
			t.Corners = append(t.Corners, Corner{int(s.Row) + 1, int(s.Col) + 1, g.At(s)})
		}
		return t
	}
	t.Column, t.Row, t.Shift = g.Source.Pitch.V[0], g.Source.Pitch.V[1], g.Source.Stagger.V
	return t
}
