package layout

import (
	"gridferry/gen/measure"
	"gridferry/gen/slot"
	"gridferry/plan"
)

// corners lays a grid out by its touched corners; false where they carry none.
func (r *resolver) corners(grid *Grid, g *plan.Grid) bool {
	if unread(g, "corners_in", g.Corners.In.IsSet()) {
		return false
	}
	size := measure.Size{Rows: grid.Rows, Columns: grid.Columns}
	fit := measure.Corners(grid.Name, g.Corners, size, grid.Frame.Base, r.list)
	if fit == nil || grid.Layers > 1 && !r.layersStep(grid, g, fit) {
		return false
	}
	grid.Fit = fit
	return true
}

// layersStep refuses layers on a surface that stands upright in its frame: there
// "on the side of +Z" says nothing.
func (r *resolver) layersStep(grid *Grid, g *plan.Grid, fit *measure.Grid) bool {
	const upright = 0.5 // the normal is more than 60° away from Z
	z := fit.Surface.Normal(float64(grid.Rows-1)/2, float64(grid.Columns-1)/2).Z
	if z > upright || z < -upright {
		return true
	}
	r.list.Errorf("bad-corners", g.Corners.Place, "the corners of the grid %q stand upright in its frame, so its layers have no direction", grid.Name).
		WithHint("place the grid in a frame whose Z is square to it")
	return false
}

// reaches gives every measured frame which slots rest on it, so that it knows how
// far its uncertain angle carries.
func (r *resolver) reaches() {
	for _, g := range r.out.Grids {
		if g.Fit != nil && g.Fit.InBase {
			continue // touched where it is, whatever the frame
		}
		for f := g.Frame; f != nil; f = f.Parent {
			if f.Fit != nil {
				g.reach(f)
			}
		}
	}
}

// reach gives a frame the slots that may be the farthest ones: the corners of the
// grid, and of a staggered one also the rows beside them.
func (g *Grid) reach(f *Frame) {
	inFrame := f.Base.Inverse().Mul(g.Frame.Base)
	rows := []int{0, min(1, g.Rows-1), max(0, g.Rows-2), g.Rows - 1}
	for _, row := range rows {
		for _, col := range []int{0, g.Columns - 1} {
			for _, layer := range []int{0, g.Layers - 1} {
				s := slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)}
				f.Fit.Reach(g.Name, g.Label(s), inFrame.Apply(g.At(s)))
			}
		}
	}
}
