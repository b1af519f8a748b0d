package nest

import (
	"gridferry/gen/layout"
	"gridferry/gen/loops"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
)

// tables adds the grids to what was gathered; those that no entry uses are left out.
func (j *job) tables() {
	used := map[*layout.Grid]bool{}
	for _, e := range j.l.Entries {
		for i := range e.Stops {
			used[e.Stops[i].Grid] = true
		}
	}
	for _, g := range j.l.Grids {
		if used[g] {
			t := gridOf(g)
			t.Leads = j.leads[g]
			j.Grids = append(j.Grids, t)
		}
	}
	j.pose(j.own.Start, j.l.ToolAt(1))
	for s, on := range j.l.Steps() {
		j.pose(s.Pose, on)
	}
}

func gridOf(g *layout.Grid) loops.Grid {
	plain, off := pattern.Corrections(g.Pattern)
	form := plain.Form()
	if !form.Even() {
		plain, off = g.Pattern, nil
	}
	first, _ := plain.At(slot.Slot{})
	t := loops.Grid{
		Place: g.Place, Name: g.Name, Frame: g.Frame.Name, FrameNumber: g.Frame.Number, Rows: g.Rows, Columns: g.Columns, Layers: g.Layers,
		Across: g.Across(), First: first, Turn: g.Turn(), Column: form.Column, Row: form.Row, Layer: form.Layer, Shift: form.Stagger,
	}
	switch {
	case form.Cornered:
		for _, s := range plain.Corners() {
			t.Corners = append(t.Corners, slotOf(plain, s))
		}
	case !form.Even():
		for i := range g.Size() {
			if !g.Missing.Has(i) {
				t.Slots = append(t.Slots, slotOf(plain, g.Slot(i)))
			}
		}
	}
	for _, s := range off {
		if g.Has(s) {
			there := slotOf(g.Pattern, s)
			there.At = there.At.Sub(slotOf(plain, s).At)
			t.Off = append(t.Off, there)
		}
	}
	return t
}

func slotOf(p pattern.Pattern, s slot.Slot) loops.Slot {
	at, turned := p.At(s)
	return loops.Slot{Row: int(s.Row) + 1, Column: int(s.Col) + 1, Layer: int(s.Layer) + 1, At: at, Turned: turned}
}
