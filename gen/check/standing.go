package check

import (
	"math"
	"math/bits"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
)

// Standing is a grid with the parts that stand in it at present.
type Standing struct {
	Grid *layout.Grid
	Full layout.Slots

	part   *layout.Part // what stands there; the tallest where the plan mixes parts
	count  []int        // parts on each layer
	top    int          // the highest layer that holds any, -1 for none
	inGrid geom.Pose    // the base in the grid's frame
	bounds solid.Bounds // around all parts that could stand there, in the base
	room   solid.Bounds // the same in the grid's frame, with the lines' bend and less slack
	line   lines
	grip   grip
	shapes *shapes // nil until something comes near

	// A part in the grid's frame: how it is turned, where its middle is from the
	// slot's position, and how far it goes from there along the frame's axes.
	turn geom.Rot
	lift geom.Vec
	half geom.Vec
}

// lines is how the slots of a layer lie: the first slot of every row, and the
// steps along a row and from row to row.
type lines struct {
	column geom.Vec // from slot to slot in a row
	row    geom.Vec // from row to row, in the first column
	end    geom.Vec // from the first to the last slot of a row
	spread geom.Vec // how far a row may lie beside that: a stagger
	bend   geom.Vec // how far a slot may lie off all that, where corners were touched
}

func newStanding(g *layout.Grid) *Standing {
	s := &Standing{
		Grid: g, Full: append(layout.Slots(nil), g.Full...), count: make([]int, g.Layers), top: -1,
		inGrid: g.Frame.Base.Inverse(),
	}
	for i, word := range s.Full {
		for ; word != 0; word &= word - 1 {
			s.count[(i*64+bits.TrailingZeros64(word))/(g.Rows*g.Columns)]++
		}
	}
	s.line, s.turn = linesOf(g), turnOf(g)
	s.sink()
	s.setPart(g.Part)
	s.setPart(g.Holds)
	return s
}

func linesOf(g *layout.Grid) lines {
	l := straightLines(g)
	if g.Fit != nil {
		l.bend = l.bendOf(g)
	}
	return l
}

// bendOf is how far slots lie off the lines and off the level of the first slot of
// their layer. Between touched corners all of that is largest at a corner.
func (l *lines) bendOf(g *layout.Grid) geom.Vec {
	var bend geom.Vec
	for _, row := range [...]int{0, g.Rows - 1} {
		for _, col := range [...]int{0, g.Columns - 1} {
			for _, layer := range [...]int{0, g.Layers - 1} {
				line := l.column.Scale(float64(col)).Add(l.row.Scale(float64(row)))
				at := g.At(slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)})
				first := g.At(slot.Slot{Layer: int32(layer)})
				off := abs(at.Sub(first).Sub(geom.Vec{X: line.X, Y: line.Y}))
				bend = geom.Vec{X: max(bend.X, off.X), Y: max(bend.Y, off.Y), Z: max(bend.Z, off.Z)}
			}
		}
	}
	return bend
}

func straightLines(g *layout.Grid) lines {
	var l lines
	at := func(row, col int) geom.Vec { return g.At(slot.Slot{Row: int32(row), Col: int32(col)}) }
	first := at(0, 0)
	l.end = at(0, g.Columns-1).Sub(first)
	if g.Columns > 1 {
		l.column = l.end.Scale(1 / float64(g.Columns-1))
	}
	if g.Rows < 2 {
		return l
	}
	// Even rows lie on a line; the odd ones may be shifted beside it.
	last := (g.Rows - 1) / 2 * 2
	if last > 0 {
		l.row = at(last, 0).Sub(first).Scale(1 / float64(last))
		l.spread = abs(at(1, 0).Sub(first).Sub(l.row))
	} else {
		l.row = at(1, 0).Sub(first)
	}
	return l
}

// turnOf is how the parts of a grid are turned in its frame: not at all, but in
// a grid whose corners were touched along its rows and columns.
func turnOf(g *layout.Grid) geom.Rot {
	if g.Fit == nil {
		return geom.IdentityRot()
	}
	first := g.At(slot.Slot{})
	x, alongRow := g.At(slot.Slot{Col: int32(g.Columns - 1)}).Sub(first).Unit()
	y, alongColumn := g.At(slot.Slot{Row: int32((g.Rows - 1) / 2 * 2)}).Sub(first).Unit()
	up := geom.Vec{Z: 1}
	if alongRow && alongColumn {
		if up, _ = x.Cross(y).Unit(); up.Z < 0 {
			up = up.Scale(-1)
		}
	}
	if !alongRow {
		x = y.Cross(up)
	}
	across, ok := up.Cross(x).Unit()
	if !ok {
		return geom.IdentityRot()
	}
	x, _ = across.Cross(up).Unit()
	return geom.FromColumns(x, across, x.Cross(across))
}

func abs(v geom.Vec) geom.Vec { return geom.Vec{X: math.Abs(v.X), Y: math.Abs(v.Y), Z: math.Abs(v.Z)} }

// setPart takes note of what stands in the grid; of several the tallest. It is
// true when that is news.
func (s *Standing) setPart(p *layout.Part) bool {
	if p == nil || s.part != nil && s.part.Size.Z >= p.Size.Z {
		return false
	}
	s.part = p
	s.lift = s.turn.Apply(geom.Vec{Z: p.Middle()})
	box := s.box(slot.Slot{})
	s.half = box.Reach()
	s.bound()
	return true
}

// bound works out the box around all parts that could stand in the grid.
func (s *Standing) bound() {
	first := true
	g := s.Grid
	for row := range g.Rows {
		for _, col := range [...]int{0, g.Columns - 1} {
			for _, layer := range [...]int{0, g.Layers - 1} {
				box := s.box(slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)})
				here := box.Bounds()
				box = box.In(&g.Frame.Base)
				one := box.Bounds()
				if first {
					s.bounds, s.room, first = one, here, false
				}
				s.bounds, s.room = s.bounds.Around(&one), s.room.Around(&here)
			}
		}
	}
	less := slack.Sub(s.line.bend)
	s.room = solid.Bounds{Lo: s.room.Lo.Add(less), Hi: s.room.Hi.Sub(less)}
}

// box is the part at a slot, in the grid's frame.
func (s *Standing) box(at slot.Slot) solid.Solid {
	return s.part.Solid(geom.Pose{R: s.turn, T: s.Grid.At(at).Add(s.lift)})
}

func (s *Standing) take(i int) {
	if s.Full.Has(i) {
		s.Full.Remove(i)
		s.count[s.layer(i)]--
		s.sink()
	}
}

// put stands a part in a slot; true when the grid reaches farther for it.
func (s *Standing) put(i int, p *layout.Part) bool {
	news := s.setPart(p)
	if !s.Full.Has(i) {
		s.Full.Add(i)
		s.count[s.layer(i)]++
		s.top = max(s.top, s.layer(i))
	}
	return news
}

func (s *Standing) layer(i int) int { return i / (s.Grid.Rows * s.Grid.Columns) }

// sink finds the highest layer that holds a part.
func (s *Standing) sink() {
	s.top = len(s.count) - 1
	for s.top >= 0 && s.count[s.top] == 0 {
		s.top--
	}
}

// empty reports whether there is nothing that could be hit.
func (s *Standing) empty() bool {
	return s.top < 0 || !s.part.Sized()
}

// hit looks for a standing part that a body reaches into, deeper than touch,
// on its way; own is as in a window.
func (s *Standing) hit(b *Body, own int) (at slot.Slot, depth float64, found bool) {
	if s.empty() || !s.bounds.Overlaps(&b.Bounds) {
		return slot.Slot{}, 0, false
	}
	here, ok := s.low(b)
	if !ok {
		return slot.Slot{}, 0, false
	}
	room := here.Bounds()
	half := s.half.Sub(geom.Vec{X: touch, Y: touch, Z: touch})
	w := window{room.Lo.Sub(half).Sub(s.lift), room.Hi.Add(half).Sub(s.lift), slack, own}
	found = s.find(&w, func(next slot.Slot) bool {
		box := s.box(next)
		at, depth = next, solid.DepthOver(&box, &here, touch)
		return depth > touch
	})
	return at, depth, found
}

// above reports whether slot i is slot own or one above it.
func (s *Standing) above(i, own int) bool {
	return i >= own && (i-own)%(s.Grid.Rows*s.Grid.Columns) == 0
}

// touch is how deep two parts may reach into each other without a word, mm:
// parts that stand side by side or on each other do touch, and frames are not
// measured any better.
const touch = 0.01

// highest is how high the highest part reaches, in the grid's frame.
func (s *Standing) highest() float64 {
	return s.Grid.At(slot.Slot{Layer: int32(s.top)}).Z + s.line.bend.Z + s.lift.Z + s.half.Z
}

// low is the part of a body's way, in the grid's frame, on which it is lower
// than the highest top in the grid; false when it never is.
func (s *Standing) low(b *Body) (solid.Solid, bool) {
	here := b.Here.In(&s.inGrid)
	way := s.inGrid.R.Apply(b.Way)
	top := s.highest() - touch
	bottom := here.Centre.Z - here.Reach().Z
	from, to := 0.0, 1.0
	switch {
	case bottom >= top && bottom+way.Z >= top:
		return here, false
	case bottom >= top: // comes down from above
		from = (top - bottom) / way.Z
	case bottom+way.Z >= top: // goes up and away
		to = (top - bottom) / way.Z
	}
	here.Centre = here.Centre.Add(way.Scale(from))
	return here.Swept(way.Scale(to - from)), true
}

// window is a part of a grid's room, in the grid's frame: the slots whose position
// is between two corners, or no more than beside outside them. The slot with the
// index own is left out, with those above it; -1 leaves none out.
type window struct {
	lo, hi geom.Vec
	beside geom.Vec
	own    int
}

// slack is a quarter of touch, along each axis: far more than what rounding does, so
// that a look at boxes that differ by rounding still lets through whatever reaches
// deeper than touch; and its length in space, √3 times as much, is less than touch.
var slack = geom.Vec{X: touch / 4, Y: touch / 4, Z: touch / 4}

// find is whether a full slot in a window is what is wanted, slot by slot from the
// bottom layer up.
func (s *Standing) find(w *window, wanted func(slot.Slot) bool) bool {
	lo, hi := w.lo.Sub(s.line.bend), w.hi.Add(s.line.bend)
	for layer := range s.top + 1 {
		first := s.Grid.At(slot.Slot{Layer: int32(layer)})
		if s.count[layer] == 0 || first.Z < lo.Z || first.Z > hi.Z {
			continue
		}
		from, to := s.rows(lo.Sub(first), hi.Sub(first))
		for row := from; row <= to; row++ {
			if s.inRow(slot.Slot{Row: int32(row), Layer: int32(layer)}, w, wanted) {
				return true
			}
		}
	}
	return false
}

// inRow is find for the row that a slot begins.
func (s *Standing) inRow(at slot.Slot, w *window, wanted func(slot.Slot) bool) bool {
	g := s.Grid
	start, row := g.At(at), at
	from, to := span(g.Columns, s.line.column, w.lo.Sub(s.line.bend).Sub(start), w.hi.Add(s.line.bend).Sub(start))
	for col := s.next(row, from); col <= to; col = s.next(row, col+1) {
		at.Col = int32(col)
		if w.holds(g.At(at)) && !(w.own >= 0 && s.above(g.Index(at), w.own)) && wanted(at) {
			return true
		}
	}
	return false
}

// holds reports whether a position is in the window.
func (w *window) holds(at geom.Vec) bool {
	return at.X >= w.lo.X-w.beside.X && at.X <= w.hi.X+w.beside.X &&
		at.Y >= w.lo.Y-w.beside.Y && at.Y <= w.hi.Y+w.beside.Y &&
		at.Z >= w.lo.Z-w.beside.Z && at.Z <= w.hi.Z+w.beside.Z
}

// next is the first column of a row, from one on, that holds a part; past the
// last one where none does.
func (s *Standing) next(row slot.Slot, col int) int {
	row.Col = 0
	start := s.Grid.Index(row)
	for i := start + col; i < start+s.Grid.Columns; {
		if word := s.Full[i/64] >> (i % 64); word != 0 {
			return i + bits.TrailingZeros64(word) - start
		}
		i = (i/64 + 1) * 64
	}
	return s.Grid.Columns
}

// rows is the range of rows that come between two corners, seen from the first
// slot of the layer.
func (s *Standing) rows(lo, hi geom.Vec) (from, to int) {
	l := &s.line
	// A row reaches from its first slot to its last; both lie on lines.
	lo = lo.Sub(l.spread).Sub(geom.Vec{X: max(0, l.end.X), Y: max(0, l.end.Y)})
	hi = hi.Add(l.spread).Sub(geom.Vec{X: min(0, l.end.X), Y: min(0, l.end.Y)})
	return span(s.Grid.Rows, l.row, lo, hi)
}

// span is the range of k in [0, n) for which k·step comes between two corners
// in X and Y, and perhaps some just outside.
func span(n int, step, lo, hi geom.Vec) (from, to int) {
	const little = 0.01 // of a step: more than rounding does to a slot's position
	from, to = 0, n-1
	for _, d := range [...][3]float64{{step.X, lo.X, hi.X}, {step.Y, lo.Y, hi.Y}} {
		a, b := d[1], d[2]
		if math.Abs(d[0]) < 1e-9 {
			if a > 0 || b < 0 {
				return 0, -1
			}
			continue
		}
		if a, b = a/d[0], b/d[0]; a > b {
			a, b = b, a
		}
		from = max(from, int(math.Ceil(min(a-little, float64(n)))))
		to = min(to, int(math.Floor(max(b+little, -1))))
	}
	return from, to
}
