package draw

import (
	"math"
	"slices"
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
	spots = slices.DeleteFunc(slices.Clone(d.piles(g, spots)), func(s spot) bool { return s.under })
	sizes := []float64{slotSize, leastSize}
	for _, size := range sizes {
		if lines := d.slotLines(g, spots, true); d.fits(g, spots, lines, size) {
			d.numbered[g] = true
			d.writeSlots(g, spots, lines, size)
			return
		}
	}
	d.note("Order numbers stand only at a grid's first and last transfer where slots lie close")
	for _, size := range sizes {
		if lines := d.slotLines(g, spots, false); d.fits(g, spots, lines, size) {
			d.writeSlots(g, spots, lines, size)
			return
		}
	}
	if g.Pattern.Form().Even() {
		d.note("Where slots lie close, their row letters and column numbers stand at the edges of the grid")
	}
	d.headers(g)
}

// piles are the spots that get a label. Where a pile leans, so that its layers
// are seen beside each other but cover each other too, one label serves them all.
func (d *drawing) piles(g *standing, spots []spot) []spot {
	if !g.Piled() {
		return topmost(spots)
	}
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

// topmost are the spots of the highest layer that holds a part, or of the highest one: it
// hides those below, which do not lie in the same places.
func topmost(spots []spot) []spot {
	top, holds := int32(0), false
	for _, s := range spots {
		switch full := s.full > 0; {
		case full && !holds:
			top, holds = s.slot.Layer, true
		case full == holds:
			top = max(top, s.slot.Layer)
		}
	}
	return slices.DeleteFunc(slices.Clone(spots), func(s spot) bool { return s.slot.Layer != top || holds && s.full == 0 })
}

// piled reports whether a grid's layers cover each other.
func (d *drawing) piled(g *standing) bool {
	foot := bounds(d.v.footprint(g, looks{}))
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
			if s.there > 1 && g.Piled() {
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
		if m := g.marks[g.Index(slot.Slot{Row: s.slot.Row, Col: s.slot.Col, Layer: layer})]; m != nil && (s.there > 1 && g.Piled() || layer == s.slot.Layer) {
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

// String is the numbers, or how many there are.
func (t tally) String() string {
	if t.n > len(t.numbers) {
		return "×" + strconv.Itoa(t.n)
	}
	text := strconv.Itoa(t.numbers[0])
	for _, n := range t.numbers[1:t.n] {
		text += " " + strconv.Itoa(n)
	}
	return text
}

const leading = 1.12 // from one line to the next, as a share of the size

// fits reports whether labels of neighbours keep clear of each other.
func (d *drawing) fits(g *standing, spots []spot, lines [][]string, size float64) bool {
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
	for _, l := range allLooks(spots) {
		foot := d.v.footprint(g, l)
		for _, corner := range box(-w/2, -h/2, w, h).corners() {
			if !contains(foot, corner.times(within)) {
				return false
			}
		}
	}
	return w == 0 || besideEachOther(spots, w, h)
}

func abs(x float64) float64 { return max(x, -x) }

// besideEachOther reports whether labels of a width and a height keep clear of each
// other, one on each spot. Spots all but on one place share their label.
func besideEachOther(spots []spot, w, h float64) bool {
	const shared = 0.3
	cells := map[[2]int][]pt{}
	for _, s := range spots {
		x, y := int(math.Floor(s.at.x/w)), int(math.Floor(s.at.y/h))
		for i := range 9 {
			for _, p := range cells[[2]int{x + i%3 - 1, y + i/3 - 1}] {
				if way := p.minus(s.at); abs(way.x) < w && abs(way.y) < h && !way.near(pt{}, shared) {
					return false
				}
			}
		}
		cells[[2]int{x, y}] = append(cells[[2]int{x, y}], s.at)
	}
	return true
}

// halo keeps what is drawn over slots off their letters: the path of one transfer, and the
// tool's boxes; elsewhere it would only eat their outlines.
func (d *drawing) halo(g *standing, s spot) string {
	const letters = 3.5 // as far from the middle of a slot, mm of paper
	switch {
	case d.s.o.Transfer == 0 && g.part.Sized() && !d.acrossTool(box(s.at.x, s.at.y, 0, 0).grown(letters)):
		return ""
	case s.full > 0 && g.part.Sized():
		return " onpart"
	case s.full == 0 && s.due > 0 && g.part.Sized():
		return " ondue"
	default:
		return " halo"
	}
}

func (d *drawing) writeSlots(g *standing, spots []spot, lines [][]string, size float64) {
	d.open("g", "data-labels", g.Name)
	for i, s := range spots {
		halo := d.halo(g, s)
		step := float64(size * leading)
		y := s.at.y - float64(step*float64(len(lines[i])-1)/2)
		for k, text := range lines[i] {
			class := "ink" + halo
			if k > 0 || strings.HasPrefix(text, "↓") || strings.HasPrefix(text, "↑") {
				class = "order" + halo
			}
			d.centred(lettering{class, size}, pt{s.at.x, y + float64(step*float64(k))}, text)
		}
	}
	d.close("g")
}
