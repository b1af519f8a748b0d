package layout

import (
	"cmp"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
)

// pattern is how a grid lies, by the keys that say so; nil where they say nothing, or
// nothing that can be. What it rests on goes into the grid.
func (r *resolver) pattern(grid *Grid, g *plan.Grid) pattern.Pattern {
	switch {
	case g.Standard != nil:
		return r.standard(grid, g)
	case g.Corners != nil:
		return r.corners(grid, g)
	}
	return r.rows(grid, g)
}

func (r *resolver) rows(grid *Grid, g *plan.Grid) pattern.Pattern {
	extent, ok := r.extent(g, g.Rows, g.Columns)
	if !ok || !r.pitch(g) || !g.First.IsSet() {
		return nil
	}
	grid.Basis = []Basis{
		{"where its slot A1 is", g.First.Place, always},
		{"from slot to slot", g.Pitch.Place, beside},
		{"from layer to layer", g.LayerPitch.Place, above},
	}
	if g.Stagger.V != 0 {
		grid.Basis = slices.Insert(grid.Basis, 2, Basis{"the shift of every second row", g.Stagger.Place, shifted})
	}
	return pattern.Rows(extent, vec(g.First), geom.Vec{X: g.Pitch.V[0], Y: g.Pitch.V[1], Z: g.LayerPitch.V}, g.Stagger.V)
}

// standard is passed over without one of the two figures that it needs: that was said.
func (r *resolver) standard(grid *Grid, g *plan.Grid) pattern.Pattern {
	s := g.Standard
	if !s.Name.IsSet() || !s.Height.IsSet() || unread(g, "corner", s.Corner.IsSet()) {
		return nil
	}
	p := pattern.Standard(s.Name.V, s.Corner.V, s.Height.V, g.Layers.Or(1), g.LayerPitch.V)
	extent := p.Extent()
	if _, ok := r.extent(g, plan.Whole{V: extent.Rows, Place: s.Name.Place}, plan.Whole{V: extent.Columns, Place: s.Name.Place}); !ok {
		return nil
	}
	grid.Basis = []Basis{
		{"where its slot A1 is", s.Height.Place, always},
		{"from slot to slot", s.Name.Place, beside},
		{"from layer to layer", g.LayerPitch.Place, above},
	}
	return p
}

func (r *resolver) corners(grid *Grid, g *plan.Grid) pattern.Pattern {
	extent, ok := r.extent(g, g.Rows, g.Columns)
	if !ok || grid.Frame == nil || unread(g, "corners_in", g.Corners.In.IsSet()) {
		return nil
	}
	grid.Fit = measure.Corners(grid.Name, g.Corners, measure.Size{Rows: extent.Rows, Columns: extent.Columns}, grid.Frame.Base, r.list)
	if grid.Fit == nil || extent.Layered() && !r.layersStep(grid, g, extent) {
		return nil
	}
	grid.Basis = []Basis{
		{"where the corners were touched", g.Corners.Place, always},
		{"from layer to layer", g.LayerPitch.Place, above},
	}
	return pattern.Corners(extent, grid.Fit.Surface, g.LayerPitch.V)
}

// What a basis counts for.
func always(slot.Slot) bool    { return true }
func beside(s slot.Slot) bool  { return s.Row > 0 || s.Col > 0 }
func shifted(s slot.Slot) bool { return s.Row%2 == 1 }
func above(s slot.Slot) bool   { return s.Layer > 0 }

// layersStep refuses layers on a surface that stands upright in its frame: there
// "on the side of +Z" says nothing.
func (r *resolver) layersStep(grid *Grid, g *plan.Grid, extent pattern.Extent) bool {
	const upright = 0.5 // the normal is more than 60° away from Z
	z := grid.Fit.Surface.Normal(float64(extent.Rows-1)/2, float64(extent.Columns-1)/2).Z
	if z > upright || z < -upright {
		return true
	}
	r.list.Errorf("bad-corners", g.Corners.Place, "the corners of the grid %q stand upright in its frame, so its layers have no direction", grid.Name).
		WithHint("place the grid in a frame whose Z is square to it")
	return false
}

// extent is rows, columns and layers, held to what memory allows and to what layers ask
// for.
func (r *resolver) extent(g *plan.Grid, rows, columns plan.Whole) (pattern.Extent, bool) {
	if !rows.IsSet() || !columns.IsSet() || unread(g, "layers", g.Layers.IsSet()) {
		return pattern.Extent{}, false
	}
	// Each factor is bounded by 10⁹ when it is read, so two of them multiply
	// without overflow, and the third is compared by division.
	flat, layers := int64(rows.V)*int64(columns.V), int64(g.Layers.Or(1))
	if flat > int64(r.left)/layers {
		most := largest(rows, columns, g.Layers)
		f := r.list.Errorf("too-many-slots", most.Place, "the grid %q asks for %d × %d × %d slots, but only %d are left of the limit",
			g.Name.V, rows.V, columns.V, layers, r.left)
		if float64(flat)*float64(layers) <= withinReason*float64(r.left) {
			f.WithHint("\"--limit\" raises it")
		} else {
			f.WithHint("is %d meant?", most.V)
		}
		return pattern.Extent{}, false
	}
	r.left -= int(flat * layers)
	return pattern.Even(rows.V, columns.V, int(layers)), r.layerPitch(g)
}

// layerPitch asks for the step that layers need.
func (r *resolver) layerPitch(g *plan.Grid) bool {
	layers := g.Layers.Or(1)
	switch {
	case unread(g, "layer_pitch", g.LayerPitch.IsSet()):
	case layers > 1 && !g.LayerPitch.IsSet():
		r.list.Errorf("missing-key", g.Name.Place, "the grid %q has %d layers and needs \"layer_pitch\"", g.Name.V, layers)
	default:
		return true
	}
	return false
}

// withinReason is how many times the limit somebody may want to raise it to. Beyond
// it, a figure was mistyped.
const withinReason = 100

// largest is the figure of a grid's size that makes it so big.
func largest(of ...plan.Whole) plan.Whole {
	return slices.MaxFunc(of, func(a, b plan.Whole) int { return cmp.Compare(a.V, b.V) })
}

// pitch asks for the steps that rows and columns need.
func (r *resolver) pitch(g *plan.Grid) bool {
	rows, columns := g.Rows.V, g.Columns.V
	switch {
	case unread(g, "pitch", g.Pitch.IsSet()):
	case (rows > 1 || columns > 1) && !g.Pitch.IsSet():
		r.list.Errorf("missing-key", g.Name.Place, "the grid %q has several slots and needs \"pitch\"", g.Name.V)
	case columns > 1 && g.Pitch.V[0] == 0:
		r.list.Errorf("slots-coincide", g.Pitch.Place, "the grid %q has %d columns, but the pitch from column to column is 0", g.Name.V, columns)
	case rows > 1 && g.Pitch.V[1] == 0:
		r.list.Errorf("slots-coincide", g.Pitch.Place, "the grid %q has %d rows, but the pitch from row to row is 0", g.Name.V, rows)
	default:
		return true
	}
	return false
}

// unread reports whether a key was written, but with a value that was refused.
func unread(g *plan.Grid, key string, set bool) bool { return g.Written.Has(key) && !set }
