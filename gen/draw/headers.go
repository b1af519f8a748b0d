package draw

import (
	"math"
	"strconv"

	"gridferry/gen/slot"
)

// headers writes row letters and column numbers along the edges of a grid with straight
// rows, as many as fit.
func (d *drawing) headers(g *standing) {
	if !g.Pattern.Form().Even() {
		d.note("Where slots lie close and in no straight rows, their names stand beside them, as far as there is room")
		d.namesBeside(g)
		return
	}
	rows := header{n: g.Rows, text: slot.Letters, at: func(i int) slot.Slot { return slot.Slot{Row: int32(i)} }}
	columns := header{n: g.Columns, text: func(i int) string { return strconv.Itoa(i + 1) }, at: func(i int) slot.Slot { return slot.Slot{Col: int32(i)} }}
	rows.far, columns.far = columns.at(g.Columns-1), rows.at(g.Rows-1)
	d.header(g, &rows)
	d.header(g, &columns)
}

// namesBeside writes the names of slots that lie in no straight rows beside them, away from the grid's
// middle or toward it: first those that begin a row, then as many more as find room.
func (d *drawing) namesBeside(g *standing) {
	const most = 400 // slots, of which more than the first of each row are named; rows, of which each is
	var slots []slot.Slot
	for row := 0; row < g.Rows; row += (g.Rows + most - 1) / most {
		slots = append(slots, slot.Slot{Row: int32(row)})
	}
	for i := range g.PerLayer() {
		if s := g.Slot(i); s.Col > 0 && g.PerLayer() <= most && g.Has(s) {
			slots = append(slots, s)
		}
	}
	at := make([]pt, len(slots))
	var middle pt
	for i, s := range slots {
		at[i] = d.v.at(g.base(s))
		middle = middle.plus(at[i].times(1 / float64(len(slots))))
	}
	size := 0.0
	for _, corner := range d.v.footprint(g, looks{}) {
		size = max(size, corner.length())
	}
	keepOff := at
	for i := range g.PerLayer() {
		if g.PerLayer() > most && g.Has(g.Slot(i)) {
			keepOff = append(keepOff, d.v.at(g.base(g.Slot(i))))
		}
	}
	for i, s := range slots {
		d.nameBeside(g, keepOff, i, middle, size, slot.Slot{Row: s.Row, Col: s.Col}.Label(false))
	}
}

// nameBeside writes the name of one of some slots that are so large where it hides none of them.
func (d *drawing) nameBeside(g *standing, slots []pt, i int, middle pt, size float64, text string) {
	out := slots[i].minus(middle)
	if l := out.length(); l > hair {
		out = out.times(1 / l)
	} else {
		out = pt{0, -1}
	}
	w := width(text, leastSize)
	gap := size + 0.7 + float64(abs(out.x)*w/2) + float64(abs(out.y)*leastSize/2)
	for _, way := range [...]float64{gap, -gap} {
		at := slots[i].plus(out.times(way))
		t := tag{at, text, box(at.x-w/2-0.4, at.y-leastSize/2, w+0.8, leastSize)}
		if !d.labels.in.has(at) || d.crowded(t.on) || t.covers(slots, size) {
			continue
		}
		d.labels.write(t.on)
		d.around[g] = d.around[g].and(t.on)
		d.centred(lettering{"ink halo", leastSize}, at, text)
		return
	}
}

// covers reports whether a label stands on one of some slots that are so large.
func (t *tag) covers(slots []pt, size float64) bool {
	for _, at := range slots {
		if t.on.shared(box(at.x-size*0.7, at.y-size*0.7, size*1.4, size*1.4)) > 0 {
			return true
		}
	}
	return false
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
			d.labels.write(t.on)
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
	for _, corner := range d.v.footprint(g, looks{}) {
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
