package pattern

import (
	"math"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// corners is rows and columns between touched corners. Layers step along the normal of
// what the corners span, on the side of the frame's +Z.
type corners struct {
	extent  Extent
	surface fit.CornerGrid
	layer   float64
	lie     geom.Rot
	lo, hi  geom.Vec // the bounds

	// The straight lines that slots lie near to, from the first slot of a layer on, and
	// how far off them a slot may be.
	column, row geom.Vec
	end         geom.Vec // from the first to the last slot of a row
	bend        geom.Vec
}

// Corners is rows and columns on a surface, in layers that are so far apart.
func Corners(extent Extent, surface fit.CornerGrid, layer float64) Pattern {
	c := &corners{extent: extent, surface: surface, layer: layer}
	first := c.at(slot.Slot{})
	ends := extent.corners()
	c.end = c.at(ends[1]).Sub(first)
	down := c.at(ends[2]).Sub(first)
	c.lie = lie(c.end, down)
	c.column, c.row = c.end.Scale(1/float64(extent.Columns-1)), down.Scale(1/float64(extent.Rows-1))
	c.lo, c.hi = first, first
	for _, s := range c.Outline() {
		at := c.at(s)
		c.lo, c.hi = c.lo.Min(at), c.hi.Max(at)
		line := c.column.Scale(float64(s.Col)).Add(c.row.Scale(float64(s.Row)))
		off := at.Sub(c.at(slot.Slot{Layer: s.Layer})).Sub(line)
		c.bend = geom.Vec{X: max(c.bend.X, math.Abs(off.X)), Y: max(c.bend.Y, math.Abs(off.Y))}
	}
	return c
}

// lie is how parts lie whose rows and columns run in these directions; upright where
// there are rows only.
func lie(along, down geom.Vec) geom.Rot {
	up, ok := along.Cross(down).Unit()
	switch {
	case !ok:
		up = geom.Vec{Z: 1}
	case up.Z < 0:
		up = up.Scale(-1)
	}
	across, ok := up.Cross(along).Unit()
	if !ok {
		return geom.IdentityRot()
	}
	return geom.FromColumns(across.Cross(up), across, up)
}

func (c *corners) Extent() Extent { return c.extent }

func (c *corners) At(s slot.Slot) (geom.Vec, float64) { return c.at(s), 0 }

func (c *corners) at(s slot.Slot) geom.Vec {
	row, col := float64(s.Row), float64(s.Col)
	at := c.surface.At(row, col)
	if s.Layer == 0 {
		return at
	}
	up := c.surface.Normal(row, col)
	if up.Z < 0 {
		up = up.Scale(-1)
	}
	return at.Add(up.Scale(float64(s.Layer) * c.layer))
}

func (c *corners) Lie(slot.Slot) geom.Rot { return c.lie }

func (c *corners) Bounds() (lo, hi geom.Vec) { return c.lo, c.hi }

// Level is that of the corners: between them nothing lies higher or lower.
func (c *corners) Level(layer int) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, s := range c.Corners() {
		s.Layer = int32(layer)
		z := c.at(s).Z
		lo, hi = min(lo, z), max(hi, z)
	}
	return lo, hi
}

func (c *corners) RowsIn(layer int, lo, hi geom.Vec) (first, last int) {
	if least, greatest := c.Level(layer); greatest < lo.Z || least > hi.Z {
		return 0, -1
	}
	start := c.at(slot.Slot{Layer: int32(layer)})
	// A row reaches from its first slot to its last one.
	lo = lo.Sub(c.bend).Sub(start).Sub(c.end.Max(geom.Vec{}))
	hi = hi.Add(c.bend).Sub(start).Sub(c.end.Min(geom.Vec{}))
	return both(c.extent.Rows, c.row, lo, hi)
}

func (c *corners) ColumnsIn(row, layer int, lo, hi geom.Vec) (first, last int) {
	start := c.at(slot.Slot{Row: int32(row), Layer: int32(layer)})
	return both(c.extent.Columns, c.column, lo.Sub(c.bend).Sub(start), hi.Add(c.bend).Sub(start))
}

// both is span along X and along Y.
func both(n int, pitch, lo, hi geom.Vec) (first, last int) {
	first, last = span(n, pitch.X, lo.X, hi.X)
	firstY, lastY := span(n, pitch.Y, lo.Y, hi.Y)
	return max(first, firstY), min(last, lastY)
}

func (c *corners) Outline() []slot.Slot {
	var all []slot.Slot
	for _, s := range c.Corners() {
		for _, layer := range ends(c.extent.Layers) {
			all = append(all, slot.Slot{Row: s.Row, Col: s.Col, Layer: layer})
		}
	}
	return all
}

func (c *corners) Corners() [4]slot.Slot { return c.extent.corners() }

func (c *corners) Pitch() float64 { return pitch(c) }

func (c *corners) Form() Form { return Form{Cornered: true, Layer: c.layer} }
