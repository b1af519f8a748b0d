package draw

import "slices"

// uncover settles what is seen from above where grids stand on each other: a free slot
// hides no part below it, and what lies under another slot has no label.
func (d *drawing) uncover(grids []*standing) {
	above := func(at func(s, t *seen)) {
		for i, g := range grids {
			for k, h := range grids {
				if i != k && g.part.Sized() && h.part.Sized() && d.overlap(g, h) {
					d.pairs(g, h, d.spots[i], d.spots[k], at)
				}
			}
		}
	}
	above(func(s, t *seen) {
		s.hollow = s.hollow || s.full == 0 && t.full > 0 && t.depth < s.depth && s.on.shared(t.on) > 0
	})
	for i := range d.spots {
		d.spots[i] = slices.DeleteFunc(d.spots[i], func(s spot) bool { return s.hollow })
	}
	above(func(s, t *seen) { s.under = s.under || t.there > 0 && t.depth > s.depth && t.on.grown(1).has(s.at) })
}

// seen is a spot with the paper that it takes.
type seen struct {
	*spot
	on rect
}

// pairs goes through the spots of a grid with those of another one.
func (d *drawing) pairs(g, h *standing, spots, others []spot, do func(s, t *seen)) {
	there := d.see(h, others)
	for _, s := range d.see(g, spots) {
		for k := range there {
			do(&s, &there[k])
		}
	}
}

func (d *drawing) see(g *standing, spots []spot) []seen {
	feet := map[looks]rect{}
	for _, l := range allLooks(spots) {
		feet[l] = bounds(d.v.footprint(g, l)).grown(-hair)
	}
	all := make([]seen, len(spots))
	for i := range spots {
		s := &spots[i]
		foot := feet[s.looks]
		all[i] = seen{s, rect{foot.x0 + s.at.x, foot.y0 + s.at.y, foot.x1 + s.at.x, foot.y1 + s.at.y}}
	}
	return all
}
