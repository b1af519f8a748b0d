package pattern

import (
	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// Place is where one slot is in the lowest layer, and how far it is turned, in degrees.
type Place struct {
	At     geom.Vec
	Turned float64
}

// places is slots that lie anywhere.
type places struct {
	extent Extent
	rows   [][]Place
	layer  float64

	lo, hi []geom.Vec // the bounds of each row, in the lowest layer
	pitch  float64
}

// Places is slots that lie as they are written, row by row, in layers that are so far
// apart.
func Places(rows [][]Place, layers int, layer float64) Pattern {
	var lengths []int
	p := &places{rows: rows, layer: layer}
	for _, row := range rows {
		lengths = append(lengths, len(row))
		lo, hi := row[0].At, row[0].At
		for _, place := range row {
			lo, hi = lo.Min(place.At), hi.Max(place.At)
		}
		p.lo, p.hi = append(p.lo, lo), append(p.hi, hi)
	}
	p.extent = Uneven(lengths, layers)
	p.pitch = leastPitch(p, 0)
	return p
}

func (p *places) Extent() Extent { return p.extent }

func (p *places) At(s slot.Slot) (geom.Vec, float64) {
	place := &p.rows[s.Row][s.Col]
	return place.At.Add(p.up(int(s.Layer))), withinHalfTurn(place.Turned)
}

// up is how far a layer is above the lowest one.
func (p *places) up(layer int) geom.Vec { return geom.Vec{Z: float64(layer) * p.layer} }

func (p *places) Lie(s slot.Slot) geom.Rot {
	return geom.RotZ(withinHalfTurn(p.rows[s.Row][s.Col].Turned))
}

func (p *places) Bounds() (lo, hi geom.Vec) {
	lo, hi = p.lo[0], p.hi[0]
	for i := range p.rows {
		lo, hi = lo.Min(p.lo[i]), hi.Max(p.hi[i])
	}
	return lo, hi.Add(p.up(p.extent.Layers - 1))
}

func (p *places) Level(layer int) (lo, hi float64) {
	low, high := p.Bounds()
	return low.Z + p.up(layer).Z, high.Z - p.up(p.extent.Layers-1-layer).Z
}

func (p *places) RowsIn(layer int, lo, hi geom.Vec) (first, last int) {
	lo, hi = lo.Sub(p.up(layer)), hi.Sub(p.up(layer))
	return hits(len(p.rows), func(i int) bool { return meet(p.lo[i], p.hi[i], lo, hi) })
}

func (p *places) ColumnsIn(row, layer int, lo, hi geom.Vec) (first, last int) {
	lo, hi = lo.Sub(p.up(layer)), hi.Sub(p.up(layer))
	return hits(len(p.rows[row]), func(i int) bool { return meet(p.rows[row][i].At, p.rows[row][i].At, lo, hi) })
}

// hits is the first and the last of n things that something holds for.
func hits(n int, holds func(int) bool) (first, last int) {
	for first < n && !holds(first) {
		first++
	}
	for last = n - 1; last > first && !holds(last); last-- {
	}
	if first == n {
		return 0, -1
	}
	return first, last
}

// meet reports whether two boxes have a point in common, or are nearer than rounding
// tells.
func meet(lo, hi, from, to geom.Vec) bool {
	const little = 1e-6 // mm
	return lo.X <= to.X+little && hi.X >= from.X-little && lo.Y <= to.Y+little && hi.Y >= from.Y-little && lo.Z <= to.Z+little && hi.Z >= from.Z-little
}

func (p *places) Outline() []slot.Slot { return outline(&p.extent) }

// Corners are the ends of the first and of the last row.
func (p *places) Corners() [4]slot.Slot {
	last := len(p.rows) - 1
	end := func(row int) int32 { return int32(len(p.rows[row]) - 1) }
	return [4]slot.Slot{{}, {Col: end(0)}, {Row: int32(last)}, {Row: int32(last), Col: end(last)}}
}

func (p *places) Pitch() float64 { return p.pitch }

// Form says nothing in short: the slots are shown one by one.
func (p *places) Form() Form { return Form{} }
