package pattern

import (
	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// rows is rows and columns.
type rows struct {
	extent  Extent
	first   geom.Vec
	pitch   geom.Vec
	stagger float64
	lo, hi  geom.Vec // the bounds
	fixed   bool     // by a standard
}

// Rows is rows and columns from a first slot on: columns step along X, rows along Y and
// layers along Z. Rows B, D, F and so on are shifted along X by the stagger.
func Rows(extent Extent, first, pitch geom.Vec, stagger float64) Pattern {
	return newRows(extent, first, pitch, stagger)
}

func newRows(extent Extent, first, pitch geom.Vec, stagger float64) *rows {
	r := &rows{extent: extent, first: first, pitch: pitch, stagger: stagger, lo: first, hi: first}
	for _, s := range r.Outline() {
		at, _ := r.At(s)
		r.lo, r.hi = r.lo.Min(at), r.hi.Max(at)
	}
	return r
}

func (r *rows) Extent() Extent { return r.extent }

func (r *rows) At(s slot.Slot) (geom.Vec, float64) {
	x := r.first.X + float64(float64(s.Col)*r.pitch.X)
	if s.Row%2 == 1 {
		x += r.stagger
	}
	return geom.Vec{X: x, Y: r.first.Y + float64(float64(s.Row)*r.pitch.Y), Z: r.height(s.Layer)}, 0
}

func (r *rows) height(layer int32) float64 { return r.first.Z + float64(float64(layer)*r.pitch.Z) }

func (r *rows) Lie(slot.Slot) geom.Rot { return geom.IdentityRot() }

func (r *rows) Bounds() (lo, hi geom.Vec) { return r.lo, r.hi }

func (r *rows) Level(layer int) (lo, hi float64) {
	z := r.height(int32(layer))
	return z, z
}

func (r *rows) RowsIn(layer int, lo, hi geom.Vec) (first, last int) {
	if z := r.height(int32(layer)); z < lo.Z || z > hi.Z || r.hi.X < lo.X || r.lo.X > hi.X {
		return 0, -1
	}
	return span(r.extent.Rows, r.pitch.Y, lo.Y-r.first.Y, hi.Y-r.first.Y)
}

func (r *rows) ColumnsIn(row, layer int, lo, hi geom.Vec) (first, last int) {
	start, _ := r.At(slot.Slot{Row: int32(row), Layer: int32(layer)})
	if start.Y < lo.Y || start.Y > hi.Y {
		return 0, -1
	}
	return span(r.extent.Columns, r.pitch.X, lo.X-start.X, hi.X-start.X)
}

// Outline is the ends of the first row and of the last one, and of those beside them,
// which may be shifted.
func (r *rows) Outline() []slot.Slot {
	var all []slot.Slot
	n := r.extent.Rows
	for _, row := range [...]int{0, min(1, n-1), max(0, n-2), n - 1} {
		for _, col := range ends(r.extent.Columns) {
			for _, layer := range ends(r.extent.Layers) {
				all = append(all, slot.Slot{Row: int32(row), Col: col, Layer: layer})
			}
		}
	}
	return all
}

func (r *rows) Corners() [4]slot.Slot { return r.extent.corners() }

func (r *rows) Pitch() float64 { return pitch(r) }

func (r *rows) Form() Form {
	return Form{Pitched: true, Fixed: r.fixed, Column: r.pitch.X, Row: r.pitch.Y, Layer: r.pitch.Z, Stagger: r.stagger}
}
