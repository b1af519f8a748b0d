package layout

import (
	"gridferry/gen/geom"
	"gridferry/plan"
)

// plate is how the wells of a standard plate lie: rows and columns, the pitch, and
// where the middle of A1 is, measured from the plate's left and top edge, all mm.
type plate struct {
	rows, columns int
	pitch         float64
	left, top     float64
}

// The wells of ANSI/SLAS 4-2004 on the footprint of ANSI/SLAS 1-2004.
var (
	plates = map[string]plate{
		"ansi-slas-96":   {8, 12, 9, 14.38, 11.24},
		"ansi-slas-384":  {16, 24, 4.5, 12.13, 8.99},
		"ansi-slas-1536": {32, 48, 2.25, 11.005, 7.865},
	}
	footprint = geom.Vec{X: 127.76, Y: 85.48}
)

// standard returns a grid with what the standard fixes written out, as if it stood
// where the standard is named. X runs along the rows, from column 1 on; Y runs from
// the last row toward row A, so that Z points up; the origin is at the corner that
// is named. Without one of the two figures that are needed it comes back unset, and
// is passed over.
func standard(g *plan.Grid) *plan.Grid {
	filled := *g
	p, ok := plates[g.Standard.Name.V]
	if !ok || !g.Standard.Height.IsSet() || unread(g, "corner", g.Standard.Corner.IsSet()) {
		filled.Rows = plan.Whole{} // said already
		return &filled
	}
	at := g.Standard.Name.Place
	first := [3]float64{p.left, -p.top, g.Standard.Height.V}
	corner := g.Standard.Corner.Or("top-left")
	if corner == "top-right" || corner == "bottom-right" {
		first[0] -= footprint.X
	}
	if corner == "bottom-left" || corner == "bottom-right" {
		first[1] += footprint.Y
	}
	filled.Rows, filled.Columns = plan.Whole{V: p.rows, Place: at}, plan.Whole{V: p.columns, Place: at}
	filled.Pitch = plan.Pair{V: [2]float64{p.pitch, -p.pitch}, Place: at}
	filled.First = plan.Vector{V: first, Place: g.Standard.Height.Place}
	filled.Stagger = plan.Real{}
	return &filled
}
