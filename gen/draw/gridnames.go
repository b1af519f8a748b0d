package draw

import (
	"strconv"

	"gridferry/gen/slot"
)

// gridName writes a grid's name and what it holds.
func (d *drawing) gridName(g *standing) {
	if !d.touches(g) {
		return
	}
	text := g.Name
	if d.v.name == "top" {
		text += ": " + d.s.holding(g)
	}
	d.label(nameText, d.around[g], text, clipPolygon(d.outline(g), d.v.on)...)
}

// callouts write the first and last order number beside grids whose slots have
// none of their own.
func (d *drawing) callouts(g *standing) {
	if !d.touches(g) || d.numbered[g] {
		return
	}
	d.callout(g, "↓", g.put, signPut)
	d.callout(g, "↑", g.taken, signTaken)
}

func (d *drawing) callout(g *standing, arrow string, s span, sign sign) {
	if s.first == 0 {
		return
	}
	d.has(sign)
	d.begins(g, s.begins)
	d.point(g, s.firstSlot, arrow+strconv.Itoa(s.first))
	if s.last != s.first {
		d.point(g, s.lastSlot, arrow+strconv.Itoa(s.last))
	}
}

// begins draws how a grid's order goes: along its first slots, and from there on to the
// next one.
func (d *drawing) begins(g *standing, slots []slot.Slot) {
	var way []pt
	for _, s := range slots {
		if at := d.v.at(g.base(s)); d.v.on.has(at) && (len(way) == 0 || !at.near(way[len(way)-1], 0.5)) {
			way = append(way, at)
		}
	}
	if len(way) > 1 {
		d.has(signBegins)
		d.begin(way)
	}
}

// begin is a line through points with a head at the end of each piece.
func (p *page) begin(way []pt) {
	p.element("path", "class", "begins", "d", polyline(false, way...))
	for i, to := range way[1:] {
		p.shape("arrow", arrowHead(way[i], to, min(1.8, 0.6*to.minus(way[i]).length())))
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
	lead := func(r rect) leader { return leader{r.nearest(at), at} }
	r := d.labels.near(rect{at.x, min(at.y, side.y), at.x, max(at.y, side.y)}, w, calloutText.size, lead)
	d.lead(lead(r))
	d.circle("arrow", at, 0.45)
	d.letters(calloutText, (r.x0+r.x1)/2, r.y1-0.5, "middle", text)
}
