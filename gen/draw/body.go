package draw

import (
	"slices"
	"strings"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// work is a slot that the tool works at, and where the tool is then.
type work struct {
	tool *layout.Tool
	tcp  geom.Pose
	at   move.Target
}

// works notes the slots at which the tool's boxes are shown: the first one of every grid,
// or those of the one transfer.
func (s *scene) works(m *move.Move) {
	if m.Target.Grid == "" || m.Target.Approach || s.o.Transfer > 0 && m.Transfer != s.o.Transfer {
		return
	}
	w := work{s.l.Tools[m.ToolNumber-1], geom.Pose{R: m.Base.RPY.Rot(), T: m.Base.Vec}, m.Target}
	g := s.byName[m.Target.Grid]
	if w.tool.Body == nil || g.worked != nil && (s.o.Transfer == 0 || *g.worked == w.at) {
		return
	}
	s.work = append(s.work, w)
	at := w.at // the rest of it need not last
	g.worked = &at
}

// corners are those of a box of the tool that stands so far from where it is written.
func (w *work) corners(b *layout.BodyBox, by geom.Vec) []geom.Vec {
	return boxCorners(geom.Pose{R: b.Edges(w.tcp.R), T: w.tcp.T}, b.From.Add(by), b.To.Add(by))
}

// bodyPoints are the corners of all boxes that are shown, open and closed.
func (s *scene) bodyPoints() []geom.Vec {
	var points []geom.Vec
	for _, w := range first(s.work) {
		for i := range w.tool.Body {
			b := &w.tool.Body[i]
			points = append(append(points, w.corners(b, geom.Vec{})...), w.corners(b, b.Open)...)
		}
	}
	return points
}

// bodies draws the tool's boxes to scale where it works: closed, and its fingers open too.
func (d *drawing) bodies() {
	for _, w := range first(d.s.work) {
		d.body(&w)
	}
}

// toldApart is how far an open finger has to be from a closed one for both to be drawn, mm
// of paper; otherwise the open one is.
const toldApart = 0.6

func (d *drawing) body(w *work) {
	var names []string
	for i := range w.tool.Body {
		names = append(names, w.tool.Body[i].Name)
	}
	d.open("g", "data-body", w.tool.Name, "data-at", w.at.String())
	d.words("title", "tool "+w.tool.Name+" at "+w.at.String()+": "+strings.Join(names, ", "))
	for i := range w.tool.Body {
		b := &w.tool.Body[i]
		if b.Moves() && d.silhouette("open", w.corners(b, b.Open)) {
			d.has(signOpen)
			if d.v.along(b.Edges(w.tcp.R).Apply(b.Open)).length() < toldApart {
				continue
			}
		}
		if d.silhouette("body", w.corners(b, geom.Vec{})) {
			d.has(signBody)
		}
	}
	d.close("g")
}

// silhouette draws the outline of a box as far as it lies in the view, and keeps labels off
// it; false where nothing does.
func (d *drawing) silhouette(class string, corners []geom.Vec) bool {
	outline, drawn := hull(d.v.all(corners)), false
	for i, a := range outline {
		if a, b, ok := clipLine(a, outline[(i+1)%len(outline)], d.v.on); ok && d.segment(class, a, b) {
			d.labels.led(leader{a, b})
			drawn = true
		}
	}
	if drawn {
		d.tools = append(d.tools, bounds(outline))
	}
	return drawn
}

// acrossTool reports whether letters would stand on a box of the tool.
func (d *drawing) acrossTool(r rect) bool {
	return slices.ContainsFunc(d.tools, func(t rect) bool { return t.shared(r) > 0 })
}

// sampleBody is a palm and two fingers.
func (p *page) sampleBody(class string, opens float64, c pt) {
	p.shape(class, box(c.x-3, c.y-1.7, 6, 1.2).corners())
	p.shape(class, box(c.x-2.2-opens, c.y-0.5, 0.9, 2.2).corners())
	p.shape(class, box(c.x+1.3+opens, c.y-0.5, 0.9, 2.2).corners())
}
