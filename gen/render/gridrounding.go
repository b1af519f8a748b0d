package render

import (
	"strconv"

	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/loops"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// loops looks at the poses that loops reckon out of their tables, where a step that is
// rounded takes every slot a little further off than the one before.
func (r *rounding) loops(t *loops.Tables) {
	for i := range t.Grids {
		r.grid(&t.Grids[i])
	}
	for _, pose := range t.Poses {
		r.compare(r.pose(pose.At.Vec, pose.At.RPY, 0), entry(r.frames, pose.FrameNumber), &unrounded, func() string { return strconv.Quote(pose.Name) })
	}
}

// grid looks at every slot, or at the corners that slots lie between.
func (r *rounding) grid(g *loops.Grid) {
	layer := r.offset("Layer", g.Layers, g.Layer)
	off := map[[3]int]pair{}
	for _, s := range g.Off {
		off[[3]int{s.Row, s.Column, s.Layer}] = pair{s.At, r.vector(s.At)}
	}
	for i := range g.Slots {
		s := &g.Slots[i]
		r.slot(g, s.Layer-1, s, pair{s.At, r.vector(s.At)})
	}
	for l := range g.Layers {
		up := pair{geom.Vec{Z: layer.exact(l)}, geom.Vec{Z: layer.written(l)}}
		for i := range g.Corners {
			s := g.Corners[i]
			r.slot(g, l, &s, pair{s.At, r.vector(s.At)}.add(up))
		}
		if g.Corners == nil && g.Slots == nil {
			r.rows(g, l, pair{g.First, r.vector(g.First)}.add(up), off)
		}
	}
}

// rows looks at the slots of a layer in straight rows, of which some are so far off their places.
func (r *rounding) rows(g *loops.Grid, l int, first pair, off map[[3]int]pair) {
	column, row := r.offset("Column", g.Columns, g.Column), r.offset("Row", g.Rows, g.Row)
	shift := r.figure(rules.Length, g.Shift)
	for i := range g.Rows {
		from := first.add(pair{geom.Vec{Y: row.exact(i)}, geom.Vec{Y: row.written(i)}})
		if i%2 == 1 { // rows 2, 4, 6 and so on
			from = from.add(pair{geom.Vec{X: g.Shift}, geom.Vec{X: shift}})
		}
		for c := range g.Columns {
			at := from.add(pair{geom.Vec{X: column.exact(c)}, geom.Vec{X: column.written(c)}})
			r.slot(g, l, &loops.Slot{Row: i + 1, Column: c + 1}, at.add(off[[3]int{i + 1, c + 1, l + 1}]))
		}
	}
}

// slot looks at the pose at a slot and at those where the arm comes before it goes down, and lets go.
func (r *rounding) slot(g *loops.Grid, layer int, s *loops.Slot, at pair) {
	p := r.pose(geom.Vec{}, g.Turn, 0)
	turned, written := geom.RotZ(s.Turned).Mul(p[0].R), geom.RotZ(r.figure(rules.Angle, s.Turned)).Mul(p[allFigures].R)
	target := move.Target{Grid: g.Name, Slot: slot.Slot{Row: int32(s.Row - 1), Col: int32(s.Column - 1), Layer: int32(layer)}, Layered: g.Layers > 1}
	look := func(at pair) {
		r.compare(figuredOf(at.exact, at.written, turned, written), entry(r.frames, g.FrameNumber), &unrounded, func() string { return "slot " + target.String() })
	}
	look(at)
	target.Approach = true
	for _, l := range g.Leads {
		look(at.add(r.lead(l, turned, written)))
	}
}

// lead is how far a point lies off its slot.
func (r *rounding) lead(l loops.Lead, turned, written geom.Rot) pair {
	if l.Back {
		return pair{turned.Column(2).Scale(-l.Distance), written.Column(2).Scale(-r.figure(rules.Length, l.Distance))}
	}
	off := l.Along.Scale(l.Distance)
	return pair{off, r.vector(off)}
}

// pair is a position, and what it is reckoned from figures.
type pair struct{ exact, written geom.Vec }

func (p pair) add(q pair) pair { return pair{p.exact.Add(q.exact), p.written.Add(q.written)} }

// offset is how far rows, columns or layers lie from the first, written one by one or, where
// there are too many or no block asks for that, as so many steps.
type offset struct {
	rounding *rounding
	step     float64
	steps    bool
}

func (r *rounding) offset(of string, count int, step float64) offset {
	return offset{r, step, count > mostOffsets || !r.family.Mentions(of+"Offset")}
}

func (o offset) exact(i int) float64 { return float64(i) * o.step }

func (o offset) written(i int) float64 {
	if o.steps {
		return float64(i) * o.rounding.figure(rules.Length, o.step)
	}
	return o.rounding.figure(rules.Length, o.exact(i))
}
