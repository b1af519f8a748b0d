package pattern

import "gridferry/gen/geom"

// plate is how the wells of a standard plate lie: rows and columns, the pitch, and
// where the middle of A1 is, measured from the plate's left and top edge.
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

// Standard is the wells of a plate whose extent a standard fixes. X runs along the rows,
// from column 1 on; Y runs from the last row toward row A, so that Z points up; the
// origin is at the corner of the plate that is named, and the TCP is so high above it.
func Standard(name, corner string, height float64, layers int, layer float64) Pattern {
	p := plates[name]
	first := geom.Vec{X: p.left, Y: -p.top, Z: height}
	if corner == "top-right" || corner == "bottom-right" {
		first.X -= footprint.X
	}
	if corner == "bottom-left" || corner == "bottom-right" {
		first.Y += footprint.Y
	}
	r := newRows(Even(p.rows, p.columns, layers), first, geom.Vec{X: p.pitch, Y: -p.pitch, Z: layer}, 0)
	r.fixed = true
	return r
}
