package draw

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

// axisOfBase draws the arm's own axis: a cross of centre lines from above, an
// upright one from the side.
func (d *drawing) axisOfBase() {
	const arm = 9.0
	o := d.v.at(geom.Vec{})
	if !d.v.on.has(o) {
		return
	}
	d.segment("centre", o.plus(pt{-arm, 0}), o.plus(pt{arm, 0}))
	d.segment("centre", o.plus(pt{0, -arm}), o.plus(pt{0, arm}))
	d.has(signCentre)
}

// reach draws how far the tool centre point goes: rings from above, bands from
// the side.
func (d *drawing) reach() {
	drawn := false
	if r := d.s.l.Cell.Machine.Radius; r.IsSet() {
		for _, radius := range r.V {
			drawn = d.radius(radius) || drawn
		}
	}
	if h := d.s.l.Cell.Machine.Height; h.IsSet() && d.v.name == "side" {
		for _, z := range h.V {
			y := d.v.at(geom.Vec{Z: z}).y
			drawn = d.segment("reach", pt{d.v.on.x0, y}, pt{d.v.on.x1, y}) || drawn
			d.labels.lines = append(d.labels.lines, rect{d.v.on.x0, y - 0.3, d.v.on.x1, y + 0.3})
		}
	}
	if drawn {
		d.has(signReach)
	}
}

// radius draws one limit of the radius: a ring, or from the side its two sides.
func (d *drawing) radius(radius float64) bool {
	if radius == 0 {
		return false
	}
	if d.v.name == "side" {
		left := d.segment("reach", d.upright(-radius, d.v.lo.y), d.upright(-radius, d.v.hi.y))
		right := d.segment("reach", d.upright(radius, d.v.lo.y), d.upright(radius, d.v.hi.y))
		return left || right
	}
	centre, r := d.v.at(geom.Vec{}), float64(radius*d.v.scale)
	d.ringLines(centre, r)
	arcs := clipCircle(centre, r, d.v.on)
	for _, a := range arcs {
		if a.whole {
			d.circle("reach", centre, r)
		} else {
			d.element("path", "class", "reach", "d", a.data(r))
		}
	}
	return len(arcs) > 0
}

// ringLines keeps labels off a ring.
func (d *drawing) ringLines(centre pt, r float64) {
	const points = 120
	for i := range points {
		if at := onCircle(centre, r, float64(i)*360/points); d.v.on.has(at) {
			d.labels.lines = append(d.labels.lines, box(at.x, at.y, 0, 0).grown(0.6))
		}
	}
}

func (d *drawing) upright(u, v float64) pt { return d.v.paper(pt{u, v}) }

func (a arc) data(radius float64) string {
	large := "0"
	if a.large {
		large = "1"
	}
	return polyline(false, a.from) + "A" + num(radius) + " " + num(radius) + " 0 " + large + " 1 " + num(a.to.x) + " " + num(a.to.y)
}

// reachNames writes the radii where their rings cross the view.
func (d *drawing) reachNames() {
	r := d.s.l.Cell.Machine.Radius
	if r.IsSet() && d.v.name == "top" {
		for _, radius := range r.V {
			if at, ok := d.onRing(radius); ok {
				d.label(quietName, rect{at.x, at.y, at.x, at.y}, "reach R "+short(radius))
			}
		}
	}
	if h := d.s.l.Cell.Machine.Height; h.IsSet() && d.v.name == "side" {
		for _, z := range h.V {
			y := d.v.at(geom.Vec{Z: z}).y
			if d.v.on.y0 < y && y < d.v.on.y1 {
				x := d.v.on.x0 + 2
				d.label(quietName, rect{x, y, x, y}, "reach Z "+short(z))
			}
		}
	}
}

// onRing is a point of a ring inside the view, in the middle of its longest
// piece.
func (d *drawing) onRing(radius float64) (pt, bool) {
	centre, r := d.v.at(geom.Vec{}), float64(radius*d.v.scale)
	best, longest := pt{}, -1.0
	for _, a := range clipCircle(centre, r, d.v.on.grown(-1)) {
		mid := centre.plus(pt{0, -r})
		if !a.whole {
			from, to := geom.Atan2(a.from.y-centre.y, a.from.x-centre.x), geom.Atan2(a.to.y-centre.y, a.to.x-centre.x)
			if to <= from {
				to += 360
			}
			mid = onCircle(centre, r, (from+to)/2)
		}
		if l := a.to.minus(a.from).length(); l > longest {
			best, longest = mid, l
		}
	}
	return best, longest >= 0 && r > 1
}

// keepOut draws a box: hatched, its edges thick, those behind it dashed.
func (d *drawing) keepOut(b *layout.Box) {
	area := clipPolygon(hull(d.v.all(boxCorners(b.Frame.Base, b.From, b.To))), d.v.on)
	if len(area) < 3 {
		return
	}
	d.has(signKeepOut)
	d.open("g", "data-box", b.Name)
	d.words("title", "keep-out box "+b.Name+" in frame "+b.Frame.Name)
	d.shape("keep", area)
	seen, hidden := d.v.boxEdges(b.Frame.Base, b.From, b.To)
	for _, e := range hidden {
		if d.segment("hidden", e.a, e.b) {
			d.has(signHidden)
		}
	}
	for _, e := range seen {
		d.segment("edge", e.a, e.b)
		if a, b, ok := clipLine(e.a, e.b, d.v.on); ok {
			if line := bounds([]pt{a, b}).grown(0.25); min(line.w(), line.h()) < 1.5 {
				d.labels.lines = append(d.labels.lines, line)
			}
		}
	}
	d.close("g")
	d.labels.soft = append(d.labels.soft, bounds(area))
}

func (d *drawing) boxName(b *layout.Box) {
	area := clipPolygon(hull(d.v.all(boxCorners(b.Frame.Base, b.From, b.To))), d.v.on)
	if len(area) < 3 {
		return
	}
	r := bounds(area)
	if spot, ok := d.roomIn(r, width(b.Name, plainSize), plainSize+0.3); ok {
		d.labels.write(spot)
		d.centred(thingText, pt{(spot.x0 + spot.x1) / 2, (spot.y0 + spot.y1) / 2}, b.Name)
		return
	}
	d.label(thingText, r, b.Name, area...)
}

// roomIn finds room for a label inside a box: in its middle or its corners.
func (d *drawing) roomIn(r rect, w, h float64) (rect, bool) {
	in := r.grown(-1)
	if in.w() < w || in.h() < h {
		return rect{}, false
	}
	for _, x := range []float64{(r.x0 + r.x1 - w) / 2, in.x0, in.x1 - w} {
		for _, y := range []float64{(r.y0 + r.y1 - h) / 2, in.y0, in.y1 - h} {
			spot := box(x, y, w, h)
			if !d.labels.covers(spot) && !d.crowded(spot) && !d.acrossTool(spot) {
				return spot, true
			}
		}
	}
	return rect{}, false
}

const waySize = 1.5 // radius of a pose's sign, mm

func (d *drawing) namedPose(w *layout.NamedPose) {
	at := d.v.at(w.Base(d.s.tool()).Vec)
	if !d.v.on.has(at) {
		return
	}
	d.has(signPose)
	d.labels.take(box(at.x, at.y, 0, 0).grown(waySize))
	d.open("g", "data-pose", w.Name, "data-x", num(at.x), "data-y", num(at.y))
	d.words("title", "pose "+w.Name)
	d.circle("way", at, waySize)
	d.segment("axis", at.plus(pt{-waySize, 0}), at.plus(pt{waySize, 0}))
	d.segment("axis", at.plus(pt{0, -waySize}), at.plus(pt{0, waySize}))
	d.close("g")
}

func (d *drawing) poseName(w *layout.NamedPose) {
	if at := d.v.at(w.Base(d.s.tool()).Vec); d.v.on.has(at) {
		d.label(thingText, box(at.x, at.y, 0, 0).grown(waySize), w.Name)
	}
}

const axisLength = 7.0 // of a frame's arrows, mm of paper

// frame draws the axes of a frame: an arrow each, or a sign for an axis along the
// line of sight.
func (d *drawing) frame(f *layout.Frame) {
	o := d.v.at(f.Base.T)
	if !d.v.on.has(o) {
		return
	}
	d.has(signFrame)
	d.open("g", "data-frame", f.Name)
	d.words("title", "frame "+f.Name)
	for i := range 3 {
		d.axis(o, f.Base.R.Column(i))
	}
	d.close("g")
}

// ahead is the least share of an axis that is seen from the side for an arrow.
const ahead = 0.2

func (d *drawing) axis(o pt, axis geom.Vec) {
	f := d.v.flat(axis)
	share := f.length()
	if share < ahead {
		d.alongSight(o, d.v.toward.Dot(axis) > 0)
		return
	}
	tip := o.plus(pt{float64(f.x * axisLength), -float64(f.y * axisLength)})
	d.labels.axes = append(d.labels.axes, bounds([]pt{o, tip}).grown(0.6))
	if !d.segment("axis", o, tip) || !d.v.on.has(tip) {
		return
	}
	d.shape("tip", arrowHead(o, tip, 1.8))
}

// alongSight is the sign for a direction towards the reader, a dot in a circle,
// or away, a cross in one.
func (d *drawing) alongSight(o pt, toReader bool) {
	const r = 1.1
	d.labels.axes = append(d.labels.axes, box(o.x, o.y, 0, 0).grown(r))
	d.circle("way", o, r)
	if toReader {
		d.circle("tip", o, 0.4)
		return
	}
	const k = 0.7 * r
	d.segment("axis", o.plus(pt{-k, -k}), o.plus(pt{k, k}))
	d.segment("axis", o.plus(pt{-k, k}), o.plus(pt{k, -k}))
}

// arrowHead is a filled head with its tip at the end of a line.
func arrowHead(from, tip pt, length float64) []pt {
	d := tip.minus(from)
	l := d.length()
	if l < hair {
		return nil
	}
	along := d.times(length / l)
	across := pt{-along.y, along.x}.times(0.28)
	back := tip.minus(along)
	return []pt{tip, back.plus(across), back.minus(across)}
}

// axisLetters writes the letters of a frame's axes, each at its arrow's tip or its sign:
// beside that where something else stands there.
func (d *drawing) axisLetters(f *layout.Frame) {
	o := d.v.at(f.Base.T)
	if !d.v.on.has(o) {
		return
	}
	d.open("g", "data-axes", f.Name)
	for i, letter := range []string{"X", "Y", "Z"} {
		r := d.labels.freest(letterPlaces(o, d.v.flat(f.Base.R.Column(i))))
		d.centred(axisText, pt{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2}, letter)
	}
	d.close("g")
}

// letterPlaces are where the letter of an axis may stand: beyond the arrow's tip, then on
// both sides of it; about the origin for an axis along the line of sight.
func letterPlaces(o pt, axis pt) []rect {
	var places []rect
	add := func(at pt) { places = append(places, box(at.x-0.9, at.y-1.1, 1.8, 2.2)) }
	if axis.length() < ahead {
		const diagonal, straight = 1.9, 2.5
		for _, k := range []pt{{-1, 1}, {1, 1}, {1, -1}, {-1, -1}} {
			add(o.plus(k.times(diagonal)))
		}
		for _, k := range []pt{{0, 1}, {-1, 0}, {1, 0}, {0, -1}} {
			add(o.plus(k.times(straight)))
		}
		return places
	}
	way := pt{float64(axis.x * axisLength), -float64(axis.y * axisLength)}
	unit := way.times(1 / way.length())
	across := pt{-unit.y, unit.x}
	for _, k := range []pt{{1.4, 0}, {-0.6, 1.9}, {-0.6, -1.9}, {2.8, 0}, {-2.6, 1.9}, {-2.6, -1.9}, {0.9, 2.6}, {0.9, -2.6}} {
		add(o.plus(way).plus(unit.times(k.x)).plus(across.times(k.y)))
	}
	return places
}

func (d *drawing) frameName(f *layout.Frame) {
	if o := d.v.at(f.Base.T); d.v.on.has(o) {
		d.label(quietName, box(o.x, o.y, 0, 0).grown(1.1), f.Name)
	}
}

// path draws the way of the tool centre point. Seen from above the path of all
// transfers goes under the slots, whose names would not be read otherwise.
func (d *drawing) path() {
	const crowd = 30
	one, more := d.s.o.Transfer > 0, ""
	switch {
	case one:
		more = " one"
	case len(d.s.trace.strokes) > crowd:
		more = " many"
	}
	d.open("g", "data-path", "tcp")
	for _, s := range d.s.trace.strokes {
		class, sign := "travel", signTravel
		if s.straight {
			class, sign = "straight", signStraight
		}
		a, b := d.v.at(s.from), d.v.at(s.to)
		if s.back || d.segment(class+more, a, b) {
			d.has(sign)
		}
		if one {
			d.direction(a, b)
		}
	}
	d.close("g")
}

// direction puts an arrow head on a line, off the middle, so that there and back
// along one line can both be seen.
func (d *drawing) direction(a, b pt) {
	const head = 2.4
	if a, b, ok := clipLine(a, b, d.v.on); ok && a.minus(b).length() > 2*head {
		d.shape("arrow", arrowHead(a, a.to(b, 0.62), head))
		d.has(signDirection)
	}
}
