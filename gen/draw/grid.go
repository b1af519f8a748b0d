package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// spot is a place of the paper where slots are: one, or several behind each
// other.
type spot struct {
	at    pt
	depth float64 // towards the reader, mm
	slot  slot.Slot
	looks looks
	index int
	full  int // slots that hold a part
	due   int // slots into which one is still put
	there int // slots that are not missing

	hollow bool // free, above a part of another grid: not drawn
	under  bool // under a slot of another grid: without a label
}

// looks is what the outline of a part depends on: how far its slot is turned, and the
// number of the way in which it lies there.
type looks struct {
	turned float64
	lies   int
}

// grids draws what all grids hold.
func (d *drawing) grids() {
	all := limited(d, d.s.grids, "grids")
	d.spots = make([][]spot, len(all))
	for i, g := range all {
		if d.touches(g) && !g.big {
			d.spots[i] = d.v.spotsOf(g)
		}
	}
	var order []int
	for i := range all {
		order = slices.Insert(order, d.turn(all, order, i), i)
	}
	if d.v.name == "top" {
		d.uncover(all)
	}
	for _, i := range order {
		d.grid(all[i], i)
	}
}

// turn is where a grid comes among others that are drawn: behind all, or before the first
// one that stands on it.
func (d *drawing) turn(all []*standing, order []int, i int) int {
	if d.v.name == "top" {
		for k, j := range order {
			if d.v.nearest(all[j].corners(0)) > d.v.nearest(all[i].corners(0)) && d.overlap(all[i], all[j]) {
				return k
			}
		}
	}
	return len(order)
}

// overlap reports whether grids share room on the paper.
func (d *drawing) overlap(g, h *standing) bool {
	return bounds(d.outline(g)).shared(bounds(d.outline(h))) > 0
}

// grid draws what a grid holds: a thin outline around it and every slot as
// large as its part.
func (d *drawing) grid(g *standing, i int) {
	if !d.touches(g) {
		return
	}
	d.open("g", "data-grid", g.Name)
	d.words("title", d.s.describe(g))
	d.shape("area", clipPolygon(d.outline(g), d.v.on))
	if !g.part.Sized() {
		d.has(signUnsized)
	}
	if g.big {
		d.tiles(g)
	} else {
		d.slots(g, d.spots[i], d.s.o.id(d.v.name+"-slot"+strconv.Itoa(i)))
	}
	d.close("g")
}

// outline is the polygon around a grid, a little wider than its parts.
func (d *drawing) outline(g *standing) []pt {
	const margin = 1.2
	return hull(d.v.all(g.corners(margin / d.v.scale)))
}

// touches reports whether some of a grid is in the view; a flat one may be seen on
// edge.
func (d *drawing) touches(g *standing) bool { return len(clipPolygon(d.outline(g), d.v.on)) > 1 }

// footprint is the outline of a part about a slot, on the paper.
func (v *view) footprint(g *standing, l looks) []pt {
	corners := g.Corners(g.part, l.turned, g.lies.Way(l.lies))
	out := make([]pt, len(corners))
	for i, c := range corners {
		out[i] = v.along(g.Frame.Base.R.Apply(c))
	}
	return hull(out)
}

// spotsOf is where a grid's slots are on the paper, the far ones first. Slots
// that lie behind each other share a spot, which shows the nearest one that
// holds a part, or the nearest of all.
func (v *view) spotsOf(g *standing) []spot {
	c := crowd{cells: map[[2]int]int{}, same: 0.25}
	if v.name == "side" { // where a grid is turned a little, its rows do not quite hide each other
		foot := bounds(v.footprint(g, looks{}))
		c.same = max(c.same, 0.35*min(foot.w(), foot.h()))
	}
	for i := range g.Size() {
		if s := g.spot(i, v); v.on.has(s.at) {
			c.add(s)
		}
	}
	slices.SortStableFunc(c.spots, func(a, b spot) int { return cmp.Compare(a.depth, b.depth) })
	return c.spots
}

// crowd gathers spots, those that are nearer than same into one.
type crowd struct {
	same  float64 // mm of paper
	spots []spot
	cells map[[2]int]int // the spot that was first in each square of the paper
}

func (c *crowd) add(s spot) {
	x, y := int(math.Floor(s.at.x/c.same)), int(math.Floor(s.at.y/c.same))
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			if i, ok := c.cells[[2]int{x + dx, y + dy}]; ok && c.spots[i].at.near(s.at, c.same) {
				c.spots[i].join(s)
				return
			}
		}
	}
	c.cells[[2]int{x, y}] = len(c.spots)
	c.spots = append(c.spots, s)
}

func (g *standing) spot(i int, v *view) spot {
	s := spot{slot: g.Slot(i), index: i}
	where := g.base(s.slot)
	s.at, s.depth, s.looks = v.at(where), v.toward.Dot(where), g.looks(s.slot)
	if !g.Missing.Has(i) {
		s.there = 1
		if g.full.Has(i) {
			s.full = 1
		}
		if g.due.Has(i) {
			s.due = 1
		}
	}
	return s
}

// looks is how a slot is drawn, or the part that stands in it.
func (g *standing) looks(at slot.Slot) looks {
	_, turned := g.Pattern.At(at)
	if i := g.Index(at); g.full.Has(i) {
		return looks{turned, g.lies.At(i)}
	}
	return looks{turned: turned}
}

// join puts another slot on the same spot.
func (s *spot) join(t spot) {
	rank := func(s *spot) int { return min(s.full, 1) + min(s.there, 1) }
	full, due, there := s.full+t.full, s.due+t.due, s.there+t.there
	if rank(&t) > rank(s) || rank(&t) == rank(s) && t.depth > s.depth {
		*s = t
	}
	s.full, s.due, s.there = full, due, there
}

// slots draws the spots of a grid.
func (d *drawing) slots(g *standing, spots []spot, shape string) {
	size := bounds(d.v.footprint(g, looks{}))
	across := max(0.5, min(size.w(), size.h()))
	d.open("defs")
	shapes := map[looks]string{}
	for i, l := range allLooks(spots) {
		shapes[l] = shape
		if i > 0 {
			shapes[l] += "-" + strconv.Itoa(i)
		}
		d.element("path", "id", shapes[l], "d", polyline(true, d.v.footprint(g, l)...))
	}
	d.close("defs")
	thick := min(0.5, 0.1*across)
	for _, kind := range []struct {
		class string
		width float64
		of    func(spot) bool
		sign  sign
	}{
		{"spare", thick / 2, func(s spot) bool { return s.full == 0 && s.due == 0 && s.there > 0 }, signFree},
		{"due", thick / 2, func(s spot) bool { return s.full == 0 && s.due > 0 }, signDue},
		{"full", thick, func(s spot) bool { return s.full > 0 }, signFull},
	} {
		d.open("g", "class", kind.class, "stroke-width", num(kind.width))
		for _, s := range spots {
			if kind.of(s) {
				d.has(kind.sign)
				d.slot(g, &s, "href", "#"+shapes[s.looks], "x", num(s.at.x), "y", num(s.at.y), "data-slot", g.Label(s.slot))
			}
		}
		d.close("g")
	}
	d.gone(spots, across)
}

// slot draws a slot. One that holds a part with an id says which.
func (d *drawing) slot(g *standing, s *spot, attributes ...string) {
	id := d.s.follow.ID(g.Grid, s.index)
	if id == nil || s.full == 0 {
		d.element("use", attributes...)
		return
	}
	d.open("use", attributes...)
	d.words("title", g.Name+" "+g.Label(s.slot)+": "+*id)
	d.close("use")
}

// allLooks are those of the spots, in the order in which they come; one at least.
func allLooks(spots []spot) []looks {
	var all []looks
	known := map[looks]bool{}
	for _, s := range spots {
		if !known[s.looks] {
			known[s.looks] = true
			all = append(all, s.looks)
		}
	}
	if all == nil {
		return []looks{{}}
	}
	return all
}

// gone crosses out the slots that are not there.
func (d *drawing) gone(spots []spot, across float64) {
	k := min(2, 0.3*across)
	for _, s := range spots {
		if s.there == 0 && d.v.name == "top" {
			d.has(signGone)
			d.segment("gone", s.at.plus(pt{-k, -k}), s.at.plus(pt{k, k}))
			d.segment("gone", s.at.plus(pt{-k, k}), s.at.plus(pt{k, -k}))
		}
	}
}

// focused draws the two slots of the one transfer that is shown, framed, over
// its path.
func (d *drawing) focused() {
	if d.s.o.Transfer == 0 {
		return
	}
	for _, t := range []move.Target{d.s.focus.from, d.s.focus.to} {
		g := d.s.byName[t.Grid]
		if g == nil {
			continue
		}
		at := d.v.at(g.base(t.Slot))
		if !d.v.on.has(at) {
			continue
		}
		outline := d.v.footprint(g, g.looks(t.Slot))
		for i := range outline {
			outline[i] = outline[i].plus(at)
		}
		class := "due"
		if g.full.Has(g.Index(t.Slot)) {
			class = "full"
		}
		d.has(signFocus)
		d.shape(class, clipPolygon(outline, d.v.on))
		d.shape("focus", clipPolygon(outline, d.v.on))
	}
}

// tiles draws a grid too large for single slots as blocks of slots.
func (d *drawing) tiles(g *standing) {
	if d.v.name != "top" {
		return
	}
	if !g.Pattern.Form().Even() {
		d.runs(g)
		return
	}
	const most = 40
	rows, cols := (g.Rows+most-1)/most, (g.Columns+most-1)/most
	d.note("Grid %s: each field stands for up to %d × %d slots", g.Name, rows, cols)
	lo, hi := g.Around(g.part, g.lies.Ways())
	margin := geom.Vec{X: hi.X - lo.X, Y: hi.Y - lo.Y}.Scale(0.5)
	for row := 0; row < g.Rows; row += rows {
		for col := 0; col < g.Columns; col += cols {
			from, to := slot.Slot{Row: int32(row), Col: int32(col)}, slot.Slot{Row: int32(min(row+rows, g.Rows) - 1), Col: int32(min(col+cols, g.Columns) - 1)}
			low, high := g.spread(from, to)
			d.tile(g, from, to, d.v.all(boxCorners(g.Frame.Base, low.Sub(margin), high.Add(margin))))
		}
	}
}

// runs draws a grid whose slots lie in no straight rows as runs: neighbours in a row that
// follow each other closely at one pitch, up to so many.
func (d *drawing) runs(g *standing) {
	const most = 1600 // runs, where few rows bend or break off
	longest := (g.PerLayer() + most - 1) / most
	if longest > 1 {
		d.note("Grid %s: each field stands for up to %d slots of a row", g.Name, longest)
	}
	feet := map[float64][]pt{}
	for row := range g.Rows {
		for from, n := 0, 0; from < g.Length(row); from += n {
			n = g.run(row, from, longest)
			var around []pt
			for col := from; col < from+n; col++ {
				s := slot.Slot{Row: int32(row), Col: int32(col)}
				_, turned := g.Pattern.At(s)
				if feet[turned] == nil {
					feet[turned] = d.v.footprint(g, looks{turned: turned})
				}
				at := d.v.at(g.base(s))
				for _, corner := range feet[turned] {
					around = append(around, corner.plus(at))
				}
			}
			d.tile(g, slot.Slot{Row: int32(row), Col: int32(from)}, slot.Slot{Row: int32(row), Col: int32(from + n - 1)}, around)
		}
	}
}

// run is how many slots of a row follow each other at about one pitch in one direction,
// from one of them on, up to so many.
func (g *standing) run(row, from, most int) int {
	at := func(col int) geom.Vec { return g.At(slot.Slot{Row: int32(row), Col: int32(col)}) }
	const close = 3 // least pitches: farther apart, others may stand between them
	n := 1
	for ; n < most && from+n < g.Length(row); n++ {
		first, step := at(from+1).Sub(at(from)), at(from+n).Sub(at(from+n-1))
		if step.Dist(first) > first.Norm()/2 || first.Norm() > float64(close*g.Pattern.Pitch()) {
			break
		}
	}
	return n
}

// tile draws one block of slots as the hull of some points: filled, free, or half filled where
// it holds some parts.
func (d *drawing) tile(g *standing, from, to slot.Slot, around []pt) {
	full, due, there := g.inBlock(from, to)
	if there == 0 {
		return
	}
	corners := hull(around)
	inside := clipPolygon(corners, d.v.on)
	if len(inside) < 3 {
		return
	}
	d.open("g", "stroke-width", num(0.12))
	switch {
	case full == 0 && due == 0:
		d.shape("spare", inside)
		d.has(signFree)
	case full == 0:
		d.shape("due", inside)
		d.has(signDue)
	case full == there:
		d.shape("full", inside)
		d.has(signFull)
	default:
		d.shape("free", inside)
		d.shape("full", clipPolygon(corners[:len(corners)/2+1], d.v.on))
		d.has(signSome)
	}
	d.close("g")
}

// inBlock counts the parts, those that are still to come and the slots of a block, in all
// layers.
func (g *standing) inBlock(from, to slot.Slot) (full, due, there int) {
	for layer := range g.Layers {
		for row := from.Row; row <= to.Row; row++ {
			for col := from.Col; col <= to.Col; col++ {
				at := slot.Slot{Row: row, Col: col, Layer: int32(layer)}
				if !g.Has(at) {
					continue
				}
				there++
				if g.full.Has(g.Index(at)) {
					full++
				}
				if g.due.Has(g.Index(at)) {
					due++
				}
			}
		}
	}
	return full, due, there
}

// spread is the least and the greatest coordinates of a block's slots.
func (g *standing) spread(from, to slot.Slot) (lo, hi geom.Vec) {
	first := true
	for row := from.Row; row <= to.Row; row++ {
		for col := from.Col; col <= to.Col; col++ {
			s := slot.Slot{Row: row, Col: col}
			if !g.Inside(s) {
				continue
			}
			at := g.At(s)
			if first {
				lo, hi, first = at, at, false
			}
			lo, hi = lo.Min(at), hi.Max(at)
		}
	}
	return lo, hi
}

func (p *page) note(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if !slices.Contains(p.notes, text) {
		p.notes = append(p.notes, text)
	}
}
