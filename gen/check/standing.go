package check

import (
	"math/bits"
	"sort"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
)

// Standing is a grid with the parts that stand in it at present.
type Standing struct {
	Grid *layout.Grid
	Full layout.Slots

	part   *layout.Part // what usually stands there; of parts of unknown size the tallest
	count  []int        // parts on each layer
	top    int          // the highest layer that holds any, -1 for none
	level  float64      // how high its highest slot is
	inGrid geom.Pose    // the base in the grid's frame
	bounds solid.Bounds // around all parts that could stand there, in the base
	room   solid.Bounds // the same in the grid's frame, less slack
	lies   layout.Lies
	wide   int // the ways of lies that half is wide enough for
	grip   grip
	laid   laid

	effort *effort

	also []int // slots of further zones that go down with the first one, from its slot on

	stacked *layout.Part // of which is known whether it bears another one
	bears   bool

	onOthers *bool       // of a stack: its first layer lies on the slots of other grids; nil while nobody has asked
	company  []*Standing // see Scene.company; nil until it is asked for
	shapes   *shapes     // nil until something comes near

	// A part in the grid's frame: where its middle is from the slot's position, and how
	// far it goes from there along the frame's axes, however it lies.
	lift geom.Vec
	half geom.Vec
	own  geom.Vec // how far it goes where it lies as its slot says
}

func newStanding(g *layout.Grid, e *effort) *Standing {
	s := &Standing{
		Grid: g, Full: append(layout.Slots(nil), g.Full...), count: make([]int, g.Layers), top: -1,
		inGrid: g.Frame.Base.Inverse(), lies: g.Lies.Copy(), effort: e,
	}
	for i, word := range s.Full {
		for ; word != 0; word &= word - 1 {
			s.count[s.layer(i*64+bits.TrailingZeros64(word))]++
		}
	}
	s.sink()
	s.setPart(g.Lies.Usual())
	s.setPart(g.Part)
	s.setPart(g.Holds)
	return s
}

// setPart takes note of what usually stands in the grid; where that is not known, of several the
// tallest. It is true when that is news.
func (s *Standing) setPart(p *layout.Part) bool {
	if p == nil || s.part != nil && s.part.Size.Z >= p.Size.Z {
		return false
	}
	if usual := s.lies.Usual(); usual != nil && p != usual {
		return false // how it lies is taken down by itself
	}
	s.part = p
	lie := s.Grid.Pattern.Lie(slot.Slot{})
	s.lift, s.half, s.wide = lie.Apply(geom.Vec{Z: p.Middle()}), geom.Vec{}, 0
	for _, at := range s.Grid.Pattern.Outline() {
		s.reachOver(at, p, nil)
	}
	s.own = s.half
	s.widen()
	return true
}

// widen makes room for the ways in which parts have come to lie since.
func (s *Standing) widen() {
	ways := s.lies.Ways()
	for ; s.wide < len(ways); s.wide++ {
		for _, at := range s.Grid.Pattern.Outline() {
			s.reachOver(at, ways[s.wide].Part, &ways[s.wide])
		}
	}
	s.bound()
}

// reachOver takes note of how far a part reaches that lies so in a slot.
func (s *Standing) reachOver(at slot.Slot, p *layout.Part, lie *layout.Lie) {
	box := p.Solid(s.Grid.Pose(at, p, lie))
	off := box.Centre.Sub(s.Grid.At(at)).Sub(s.lift)
	s.half = s.half.Max(box.Reach().Add(off.Max(off.Scale(-1))))
}

// bound works out the box around all parts that could stand in the grid.
func (s *Standing) bound() {
	g := s.Grid
	lo, hi := g.Pattern.Bounds()
	lo, hi = lo.Add(s.lift).Sub(s.half), hi.Add(s.lift).Add(s.half)
	box := solid.Box(g.Frame.Base, lo, hi)
	s.bounds, s.room = box.Bounds(), solid.Bounds{Lo: lo.Add(slack), Hi: hi.Sub(slack)}
}

// box is the part in a slot, in the grid's frame.
func (s *Standing) box(at slot.Slot) solid.Solid {
	part, lie := s.part, s.lies.Way(s.lies.At(s.Grid.Index(at)))
	if lie != nil {
		part = lie.Part
	}
	return part.Solid(s.Grid.Pose(at, part, lie))
}

func (s *Standing) take(i int) {
	if s.Full.Has(i) {
		s.Full.Remove(i)
		s.count[s.layer(i)]--
		s.sink()
	}
}

// put stands a part in a slot, where it lies so; true when the grid reaches farther
// for it.
func (s *Standing) put(i int, p *layout.Part, lies int) bool {
	news := s.setPart(p)
	if s.wide < len(s.lies.Ways()) {
		s.widen()
		news = true
	}
	s.lies.Set(i, s.Grid.Size(), lies)
	if !s.Full.Has(i) {
		s.Full.Add(i)
		s.count[s.layer(i)]++
		s.reach(max(s.top, s.layer(i)))
	}
	return news
}

func (s *Standing) layer(i int) int { return i / s.Grid.PerLayer() }

// sink finds the highest layer that holds a part.
func (s *Standing) sink() {
	top := len(s.count) - 1
	for top >= 0 && s.count[top] == 0 {
		top--
	}
	s.reach(top)
}

// reach takes note of the highest layer that holds a part.
func (s *Standing) reach(top int) {
	if top != s.top && top >= 0 {
		_, s.level = s.Grid.Pattern.Level(top)
	}
	s.top = top
}

// empty reports whether there is nothing that could be hit.
func (s *Standing) empty() bool {
	return s.top < 0 || !s.part.Sized()
}

// hit looks for a standing part that a body reaches into on its way, deeper than its
// least; own is as in a window.
func (s *Standing) hit(b *Body, own int) (at slot.Slot, depth float64, found bool) {
	if s.empty() || !s.bounds.Overlaps(&b.Bounds) {
		return slot.Slot{}, 0, false
	}
	here, ok := s.low(b)
	if !ok {
		return slot.Slot{}, 0, false
	}
	room := here.Bounds()
	least := b.least()
	half := s.half.Sub(geom.Vec{X: least, Y: least, Z: least})
	w := window{room.Lo.Sub(half).Sub(s.lift), room.Hi.Add(half).Sub(s.lift), slack, own, false}
	found = s.find(&w, func(next slot.Slot) bool {
		box := s.box(next)
		s.effort.made += effortPerBody
		at, depth = next, solid.DepthOver(&box, &here, least)
		return depth > least
	})
	return at, depth, found
}

// above reports whether slot i is slot own or one above it, or likewise that of a zone that
// goes down with the first one.
func (s *Standing) above(i, own int) bool {
	if s.over(i, own) {
		return true
	}
	for _, further := range s.also {
		if s.over(i, own+further) {
			return true
		}
	}
	return false
}

// over reports whether slot i is slot at or one above it.
func (s *Standing) over(i, at int) bool {
	if !s.Grid.Piled() {
		return i == at
	}
	return i >= at && (i-at)%s.Grid.PerLayer() == 0
}

// slotAt is the slot nearest to a position in the grid's frame, of those that a zone may
// stand at: no farther off than that.
func (s *Standing) slotAt(p geom.Vec) (nearest slot.Slot, found bool) {
	off := geom.Vec{X: layout.ZoneOff, Y: layout.ZoneOff, Z: layout.ZoneOff}
	w := window{lo: p.Sub(off), hi: p.Add(off), beside: slack, own: -1, all: true}
	least := 0.0
	s.find(&w, func(at slot.Slot) bool {
		if away := s.Grid.At(at).Dist(p); !found || away < least {
			nearest, least, found = at, away, true
		}
		return false
	})
	return nearest, found
}

// touch is how deep two parts may reach into each other without a word, mm:
// parts that stand side by side or on each other do touch, and frames are not
// measured any better.
const touch = 0.01

// highest is how high the highest part reaches, in the grid's frame.
func (s *Standing) highest() float64 { return s.upTo(s.level) }

// upTo is how high parts reach that stand in slots at a level.
func (s *Standing) upTo(level float64) float64 { return level + s.lift.Z + s.half.Z }

// low is the part of a body's way, in the grid's frame, on which it is lower
// than the highest top in the grid; false when it never is.
func (s *Standing) low(b *Body) (solid.Solid, bool) {
	top := s.highest() - b.least()
	if b.ByAxes {
		swept := b.Swept.In(&s.inGrid)
		return swept, swept.Centre.Z-swept.Reach().Z < top
	}
	here := b.Here.In(&s.inGrid)
	way := s.inGrid.R.Apply(b.Way)
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
	all    bool // empty slots, too
}

// slack is a quarter of touch, along each axis: far more than what rounding does, so
// that a look at boxes that differ by rounding still lets through whatever reaches
// deeper than touch; and its length in space, √3 times as much, is less than touch.
var slack = geom.Vec{X: touch / 4, Y: touch / 4, Z: touch / 4}

// find is whether a full slot in a window is what is wanted, slot by slot from the
// bottom layer up.
func (s *Standing) find(w *window, wanted func(slot.Slot) bool) bool {
	first, end := s.layersIn(w)
	for layer := first; layer < end; layer++ {
		if s.count[layer] == 0 && !w.all {
			continue
		}
		row, last := s.Grid.Pattern.RowsIn(layer, w.lo, w.hi)
		for s.effort.made++; row <= last && !s.effort.over(); row++ {
			if s.inRow(slot.Slot{Row: int32(row), Layer: int32(layer)}, w, wanted) {
				return true
			}
		}
	}
	return false
}

// layersIn is the layers that have slots in a window, from the first one to before the
// end; one more does no harm.
func (s *Standing) layersIn(w *window) (first, end int) {
	n := s.Grid.Layers
	if n == 1 {
		return 0, 1
	}
	first = sort.Search(n, func(layer int) bool { _, hi := s.Grid.Pattern.Level(layer); return hi >= w.lo.Z })
	end = first + sort.Search(n-first, func(k int) bool { lo, _ := s.Grid.Pattern.Level(first + k); return lo > w.hi.Z })
	return first, end
}

// inRow is find for the row that a slot begins.
func (s *Standing) inRow(at slot.Slot, w *window, wanted func(slot.Slot) bool) bool {
	g := s.Grid
	begin := g.Index(at)
	from, to := g.Pattern.ColumnsIn(int(at.Row), int(at.Layer), w.lo, w.hi)
	for i := s.next(w, begin+from, begin+to); i <= begin+to; i = s.next(w, i+1, begin+to) {
		at.Col = int32(i - begin)
		s.effort.made++
		if w.holds(g.At(at)) && (!w.all || g.Has(at)) && !(w.own >= 0 && s.above(i, w.own)) && wanted(at) {
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

// next is the first slot that holds a part, from slot i on; past the last one where
// none up to that does.
func (s *Standing) next(w *window, i, last int) int {
	for i <= last {
		if w.all {
			return i
		}
		if word := s.Full[i/64] >> (i % 64); word != 0 {
			return i + bits.TrailingZeros64(word)
		}
		i = (i/64 + 1) * 64
	}
	return last + 1
}
