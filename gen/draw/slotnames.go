package draw

import (
	"math"
	"strconv"
	"strings"

	"gridferry/gen/slot"
)

// slotNames labels a grid's slots as far as they lie wide enough apart: name
// and order numbers, the name alone, or row letters and column numbers at the
// edges.
func (d *drawing) slotNames(g *standing, spots []spot) {
	if !d.touches(g) {
		return
	}
	d.around[g] = d.v.on.inside(bounds(d.outline(g)))
	d.labels.take(d.around[g])
	if d.v.name != "top" {
		return
	}
	if g.big {
		d.headers(g)
		return
	}
	spots = d.piles(g, spots)
	for _, size := range []float64{slotSize, leastSize} {
		if lines := d.slotLines(g, spots, true); d.fits(g, lines, size) {
			d.writeSlots(g, spots, lines, size)
			return
		}
	}
	d.note("Order numbers stand only at a grid's first and last transfer where slots lie close")
	for _, size := range []float64{slotSize, leastSize} {
		if lines := d.slotLines(g, spots, false); d.fits(g, lines, size) {
			d.writeSlots(g, spots, lines, size)
			return
		}
	}
	d.note("Where slots lie close, their row letters and column numbers stand at the edges of the grid")
	d.headers(g)
}

// piles are the spots that get a label. Where a pile leans, so that its layers
// are seen beside each other but cover each other too, one label serves them all.
func (d *drawing) piles(g *standing, spots []spot) []spot {
	if !d.piled(g) {
		return spots
	}
	var out []spot
	known := map[slot.Slot]int{}
	for _, s := range spots {
		pile := slot.Slot{Row: s.slot.Row, Col: s.slot.Col}
		if i, ok := known[pile]; ok {
			out[i].join(s)
			continue
		}
		known[pile] = len(out)
		out = append(out, s)
	}
	return out
}

// piled tells whether a grid's layers cover each other.
func (d *drawing) piled(g *standing) bool {
	foot := bounds(d.v.footprint(g))
	lean := d.v.at(g.base(slot.Slot{Layer: 1})).minus(d.v.at(g.base(slot.Slot{})))
	return g.Layered() && abs(lean.x) <= foot.w() && abs(lean.y) <= foot.h()
}

// slotLines are the lines of every spot's label.
func (d *drawing) slotLines(g *standing, spots []spot, numbers bool) [][]string {
	all := make([][]string, len(spots))
	for i, s := range spots {
		if s.there == 0 {
			continue
		}
		name := slot.Slot{Row: s.slot.Row, Col: s.slot.Col}.Label(false)
		if g.Layered() {
			if s.there > 1 {
				name += " " + strconv.Itoa(s.full) + "/" + strconv.Itoa(s.there)
				d.has(signStack)
			} else {
				name = g.Label(s.slot)
			}
		}
		all[i] = []string{name}
		if !numbers {
			continue
		}
		if which := d.numbers(g, s); g.Size() == 1 && len(which) > 1 {
			all[i] = which // the grid's name says where it is
		} else {
			all[i] = append(all[i], which...)
		}
	}
	return all
}

// numbers are the transfers that put into a spot and take from it, in the order
// in which that happens first.
func (d *drawing) numbers(g *standing, s spot) []string {
	var put, taken tally
	for layer := range int32(g.Layers) { // a stack fills from below and empties from above
		if m := g.marks[g.Index(slot.Slot{Row: s.slot.Row, Col: s.slot.Col, Layer: layer})]; m != nil && (s.there > 1 || layer == s.slot.Layer) {
			put.join(m.put, false)
			taken.join(m.taken, true)
		}
	}
	var lines []string
	if put.n > 0 {
		lines = append(lines, "↓"+put.String())
		d.has(signPut)
	}
	if taken.n > 0 {
		lines = append(lines, "↑"+taken.String())
		d.has(signTaken)
	}
	if len(lines) == 2 && taken.numbers[0] < put.numbers[0] {
		lines[0], lines[1] = lines[1], lines[0]
	}
	return lines
}

// join adds another slot's numbers, behind or before.
func (t *tally) join(u tally, before bool) {
	a, b := *t, u
	if before {
		a, b = b, a
	}
	out := tally{n: a.n + b.n}
	k := copy(out.numbers[:], a.numbers[:min(a.n, 3)])
	copy(out.numbers[k:], b.numbers[:min(b.n, 3)])
	*t = out
}

// String is the numbers, or the first and how many follow.
func (t tally) String() string {
	text := strconv.Itoa(t.numbers[0])
	if t.n > len(t.numbers) {
		return text + " +" + strconv.Itoa(t.n-1)
	}
	for _, n := range t.numbers[1:t.n] {
		text += " " + strconv.Itoa(n)
	}
	return text
}

const leading = 1.12 // from one line to the next, as a share of the size

// fits tells whether labels of neighbours keep clear of each other.
func (d *drawing) fits(g *standing, lines [][]string, size float64) bool {
	w, h := 0.0, 0.0
	for _, l := range lines {
		for _, text := range l {
			w = max(w, width(text, size))
		}
		h = max(h, float64(float64(len(l))*size*leading))
	}
	within := 0.75 // the share of the text that has to lie on the slot; of a name alone it is more
	if h < 1.5*size {
		within = 0.9
	}
	foot := d.v.footprint(g)
	for _, corner := range box(-w/2, -h/2, w, h).corners() {
		if !contains(foot, corner.times(within)) {
			return false
		}
	}
	for _, to := range d.neighbours(g) {
		if abs(to.x) < w && abs(to.y) < h {
			return false
		}
	}
	return true
}

func abs(x float64) float64 { return max(x, -x) }

// neighbours are the ways on paper from a slot to those beside it.
func (d *drawing) neighbours(g *standing) []pt {
	var ways []pt
	layers := min(g.Layers, 2)
	if d.piled(g) {
		layers = 1
	}
	from := d.v.at(g.base(slot.Slot{}))
	for row := range min(g.Rows, 3) {
		for col := range min(g.Columns, 2) {
			for layer := range layers {
				if row+col+layer == 0 {
					continue
				}
				way := d.v.at(g.base(slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)})).minus(from)
				if !way.near(pt{}, 0.3) { // else they share a spot
					ways = append(ways, way)
				}
			}
		}
	}
	if g.Rows > 1 && g.Columns > 1 { // the other diagonal
		a, b := d.v.at(g.base(slot.Slot{Col: 1})), d.v.at(g.base(slot.Slot{Row: 1}))
		ways = append(ways, a.minus(b))
	}
	return ways
}

func (d *drawing) writeSlots(g *standing, spots []spot, lines [][]string, size float64) {
	d.open("g", "data-labels", g.Name)
	for i, s := range spots {
		halo := "halo"
		if s.full > 0 && g.sized() {
			halo = "onpart"
		}
		step := float64(size * leading)
		y := s.at.y - float64(step*float64(len(lines[i])-1)/2)
		for k, text := range lines[i] {
			class := "ink " + halo
			if k > 0 || strings.HasPrefix(text, "↓") || strings.HasPrefix(text, "↑") {
				class = "order " + halo
			}
			d.centred(lettering{class, size}, pt{s.at.x, y + float64(step*float64(k))}, text)
		}
	}
	d.close("g")
}

// headers writes row letters and column numbers along the edges of the grid, as
// many as fit.
func (d *drawing) headers(g *standing) {
	rows := header{n: g.Rows, text: slot.Letters, at: func(i int) slot.Slot { return slot.Slot{Row: int32(i)} }}
	columns := header{n: g.Columns, text: func(i int) string { return strconv.Itoa(i + 1) }, at: func(i int) slot.Slot { return slot.Slot{Col: int32(i)} }}
	rows.far, columns.far = columns.at(g.Columns-1), rows.at(g.Rows-1)
	d.header(g, &rows)
	d.header(g, &columns)
}

// header is one line of labels: those of all rows, or of all columns.
type header struct {
	n    int
	text func(int) string
	at   func(int) slot.Slot // of the first column, or row
	far  slot.Slot           // what leads from there to the last one
}

// tag is one label of a header.
type tag struct {
	at   pt
	text string
	on   rect
}

// header writes on the side of A1, or on the other side where that one has more
// room.
func (d *drawing) header(g *standing, h *header) {
	if h.n < 2 {
		return
	}
	here, there := d.tags(g, h, false), d.tags(g, h, true)
	if d.hidden(there) < d.hidden(here) {
		here = there
	}
	for _, t := range here {
		if d.labels.in.has(t.at) && !d.crowded(t.on) {
			d.labels.take(t.on)
			d.around[g] = d.around[g].and(t.on)
			d.centred(lettering{"ink halo", leastSize}, t.at, t.text)
		}
	}
}

// tags are a header's labels on one side of the grid.
func (d *drawing) tags(g *standing, h *header, otherSide bool) []tag {
	from, to := h.far, slot.Slot{}
	if otherSide {
		from, to = to, from
	}
	out, shift := d.outward(g, from, to, h.at(1)), pt{}
	if otherSide {
		shift = d.v.at(g.base(h.far)).minus(d.v.at(g.base(slot.Slot{})))
	}
	beyond := 1.9
	for _, corner := range d.v.footprint(g) {
		beyond = max(beyond, 1.9+float64(corner.x*out.x)+float64(corner.y*out.y))
	}
	var tags []tag
	for _, i := range d.shown(g, h) {
		text := h.text(i)
		w := width(text, leastSize)
		gap := beyond + float64(abs(out.x)*w/2) + float64(abs(out.y)*leastSize/2)
		at := d.v.at(g.base(h.at(i))).plus(shift).plus(out.times(gap))
		tags = append(tags, tag{at, text, box(at.x-w/2-0.4, at.y-leastSize/2, w+0.8, leastSize)})
	}
	return tags
}

// outward is the direction on paper, of length 1, from one side of a grid to the
// other and on; at right angles to the header where the grid has one line only.
func (d *drawing) outward(g *standing, from, to, next slot.Slot) pt {
	way := d.v.at(g.base(to)).minus(d.v.at(g.base(from)))
	if way.near(pt{}, 0.2) {
		along := d.v.at(g.base(next)).minus(d.v.at(g.base(slot.Slot{})))
		way = pt{-along.y, along.x}
	}
	if l := way.length(); l > hair {
		return way.times(1 / l)
	}
	return pt{0, -1}
}

// shown are the rows or columns that get a label: the first, the last, and every
// second, fifth, tenth and so on, whichever is the least step that fits.
func (d *drawing) shown(g *standing, h *header) []int {
	least := h.least(d.v.at(g.base(h.at(1))).minus(d.v.at(g.base(slot.Slot{}))))
	step := int(roundUp(float64(least)))
	indexes, first := []int{0}, step-1 // the 5th, the 10th
	if step < 5 {
		first = step // every second one from the first
	}
	for i := first; i < h.n-1; i += step {
		if i >= least && h.n-1-i >= least {
			indexes = append(indexes, i)
		}
	}
	return append(indexes, h.n-1)
}

// least is how many rows or columns on the next label has room.
func (h *header) least(way pt) int {
	const air = 0.7
	wide := max(width(h.text(h.n-1), leastSize), width(h.text(min(h.n-1, 25)), leastSize)) + air
	far := max(abs(way.x)/wide, abs(way.y)/leastSize)
	if float64(far*float64(h.n)) < 1 {
		return h.n
	}
	return max(1, int(math.Ceil(1/far)))
}

// hidden is how many labels have no room.
func (d *drawing) hidden(tags []tag) int {
	n := 0
	for _, t := range tags {
		if !d.labels.in.has(t.at) || d.crowded(t.on) {
			n++
		}
	}
	return n
}

// crowded is whether another label or an axis stands there. The grid's own
// outline, which is taken as a whole, may be crossed where the grid is turned.
func (d *drawing) crowded(r rect) bool {
	for _, t := range d.labels.taken {
		if t.h() < 4 && t.shared(r) > 0 {
			return true
		}
	}
	for _, t := range d.labels.axes {
		if t.shared(r) > 0 {
			return true
		}
	}
	return false
}

// gridName writes a grid's name and what it holds.
func (d *drawing) gridName(g *standing) {
	if !d.touches(g) {
		return
	}
	text := g.Name
	if d.v.name == "top" {
		text += ": " + g.holding()
	}
	d.label(nameText, d.around[g], text, clipPolygon(d.outline(g), d.v.on)...)
}

// callouts write the first and last order number beside grids whose slots have
// none of their own.
func (d *drawing) callouts(g *standing, spots []spot) {
	if !d.touches(g) {
		return
	}
	if spots = d.piles(g, spots); len(spots) > 0 {
		lines := d.slotLines(g, spots, true)
		if d.fits(g, lines, leastSize) {
			return
		}
	}
	d.callout(g, "↓", g.put, signPut)
	d.callout(g, "↑", g.taken, signTaken)
}

func (d *drawing) callout(g *standing, arrow string, s span, sign sign) {
	if s.first == 0 {
		return
	}
	d.has(sign)
	d.point(g, s.firstSlot, arrow+strconv.Itoa(s.first))
	if s.last != s.first {
		d.point(g, s.lastSlot, arrow+strconv.Itoa(s.last))
	}
}

// point labels a slot from outside its grid.
func (d *drawing) point(g *standing, s slot.Slot, text string) {
	at := d.v.at(g.base(s))
	if !d.v.on.has(at) {
		return
	}
	w := width(text, calloutText.size)
	whole := d.v.on.inside(bounds(d.outline(g)))
	side := pt{at.x, whole.y0}
	if whole.y1-at.y < at.y-whole.y0 {
		side.y = whole.y1
	}
	r := d.labels.near(rect{at.x, min(at.y, side.y), at.x, max(at.y, side.y)}, w, calloutText.size)
	d.line("leader", r.nearest(at), at)
	d.circle("arrow", at, 0.45)
	d.letters(calloutText, (r.x0+r.x1)/2, r.y1-0.5, "middle", text)
}
