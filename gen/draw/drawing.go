package draw

import (
	"cmp"
	"math"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

// drawing is one view while it is drawn: what lies behind first, then what lies
// before it, the labels last.
type drawing struct {
	*page
	v        *view
	labels   placer
	spots    [][]spot           // of every grid that is drawn slot by slot
	around   map[*standing]rect // a grid and the labels at its edges
	numbered map[*standing]bool // its slots have their order numbers
	tools    []rect             // where the tool's boxes are drawn
}

func (p *page) drawView(v *view) {
	d := &drawing{page: p, v: v, labels: placer{in: v.on.grown(-0.8)}, around: map[*standing]rect{}, numbered: map[*standing]bool{}}
	p.letters(plainText, v.on.x0, v.on.y0-1.6, "start", v.caption)
	p.open("g", "class", "view", "data-view", v.name, "data-right", triple(v.right), "data-up", triple(v.up),
		"data-scale", figure(v.scale), "data-origin", num(v.at(geom.Vec{}).x)+" "+num(v.at(geom.Vec{}).y))
	p.open("g", "clip-path", "url(#"+p.s.o.id(v.name+"-border")+")")
	d.things()
	p.close("g")
	d.names()
	d.drawRulers()
	p.close("g")
}

func triple(v geom.Vec) string { return figure(v.X) + "," + figure(v.Y) + "," + figure(v.Z) }

// things draws everything but letters.
func (d *drawing) things() {
	d.axisOfBase()
	d.reach()
	boxes := slices.Clone(limited(d, d.s.l.Boxes, "keep-out boxes"))
	slices.SortStableFunc(boxes, func(a, b *layout.Box) int { return cmp.Compare(d.v.front(a), d.v.front(b)) })
	for _, b := range boxes {
		d.keepOut(b)
	}
	d.sticks()
	under := d.v.name == "top" && d.s.o.Transfer == 0
	if under {
		d.path()
	}
	d.grids()
	if !under {
		d.path()
	}
	d.focused()
	for _, w := range limited(d, d.s.l.Poses, "poses") {
		d.namedPose(w)
	}
	d.toolLines()
	d.bodies()
	for _, f := range limited(d, d.s.l.Frames, "frames") {
		d.frame(f)
	}
}

// front is how near to the reader a box comes, mm.
func (v *view) front(b *layout.Box) float64 {
	return v.nearest(boxCorners(b.Frame.Base, b.From, b.To))
}

// nearest is how near to the reader the nearest of some points is, mm.
func (v *view) nearest(points []geom.Vec) float64 {
	nearest := math.Inf(-1)
	for _, p := range points {
		nearest = max(nearest, v.toward.Dot(p))
	}
	return nearest
}

// names writes the labels: what has only one place comes first.
func (d *drawing) names() {
	for i, g := range first(d.s.grids) {
		d.slotNames(g, d.spots[i])
	}
	for _, f := range first(d.s.l.Frames) {
		d.axisLetters(f)
	}
	for _, g := range first(d.s.grids) {
		if d.v.name == "top" {
			d.callouts(g)
		}
	}
	for _, f := range first(d.s.l.Frames) {
		d.frameName(f)
	}
	for _, g := range first(d.s.grids) {
		d.gridName(g)
	}
	for _, w := range first(d.s.l.Poses) {
		d.poseName(w)
	}
	for _, b := range first(d.s.l.Boxes) {
		d.boxName(b)
	}
	d.reachNames()
}

// first is as many as are drawn.
func first[T any](all []T) []T { return all[:min(len(all), mostThings)] }

// limited is first, and says so where that leaves some out.
func limited[T any](d *drawing, all []T, word string) []T {
	if len(all) > mostThings && d.v.name == "top" {
		d.note("Of %d %s only the first %d are drawn", len(all), word, mostThings)
	}
	return first(all)
}

// segment draws a line as far as it lies in the view; false where nothing does.
func (d *drawing) segment(class string, a, b pt) bool {
	a, b, ok := clipLine(a, b, d.v.on)
	if !ok || a.near(b, hair) {
		return false
	}
	d.line(class, a, b)
	return true
}

// label writes a name near a thing, with a leader line to its outline where it
// stands apart.
func (d *drawing) label(l lettering, around rect, text string, outline ...pt) {
	around = d.v.on.inside(around)
	text = cut(text, l.size, d.labels.in.w())
	if outline == nil {
		outline = around.corners()
	}
	lead := func(r rect) leader {
		const apart = 2.5
		to := nearestOn(outline, pt{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2})
		if from := r.nearest(to); around.distance(r) <= apart && from.minus(to).length() <= 3*apart {
			return leader{}
		}
		best := leader{r.nearest(to), to}
		crossed := d.labels.crossed(best)
		for _, corner := range outline {
			if crossed == 0 {
				break
			}
			other := leader{r.nearest(corner), corner}
			if n := d.labels.crossed(other); n < crossed {
				best, crossed = other, n
			}
		}
		return best
	}
	r := d.labels.near(around, width(text, l.size), l.size+0.3, lead)
	d.lead(lead(r))
	d.letters(l, (r.x0+r.x1)/2, r.y1-float64(0.28*l.size), "middle", text)
}

// lead draws a leader, if there is one, and keeps later labels off it.
func (d *drawing) lead(l leader) {
	if l != (leader{}) {
		d.line("leader", l.from, l.to)
		d.labels.led(l)
	}
}

func (r rect) corners() []pt { return []pt{{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}} }

// distance is the larger of the gaps across and up between two rectangles.
func (r rect) distance(s rect) float64 {
	return max(r.x0-s.x1, s.x0-r.x1, r.y0-s.y1, s.y0-r.y1)
}

// nearest is the point of a rectangle that is nearest to another point.
func (r rect) nearest(p pt) pt {
	return pt{max(r.x0, min(p.x, r.x1)), max(r.y0, min(p.y, r.y1))}
}
