package draw

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// toolLines draws where the tool points: at a clear pose, and at the first slot of each
// grid where its axis leaves the way down, by more than an eye would miss.
func (d *drawing) toolLines() {
	const seen = 2 // degrees
	seenAt := map[*layout.NamedPose]bool{nil: true}
	for _, f := range d.s.l.AllFigures() {
		if !seenAt[f.Clear] {
			seenAt[f.Clear] = true
			d.toolLine(f.Tool, *f.Clear.Base(f.Tool), "pose "+f.Clear.Name, waySize+headSize)
		}
	}
	for _, g := range first(d.s.grids) {
		if in, base := g.Points(g.Slot(0)); in.RPY.FromDown() > seen {
			d.toolLine(d.s.l.Figures(nil, g.Grid).Tool, base, "grid "+g.Name, 0)
		}
	}
}

// headSize is the length of the line's head, mm of paper.
const headSize = 1.8

// toolLine draws a tool from its flange to its TCP, to scale, where it is not seen end on;
// the head goes beyond a sign that stands there.
func (d *drawing) toolLine(t *layout.Tool, at move.Point, where string, beyond float64) {
	const shortest = 3.0 // mm of paper
	pose := geom.Pose{R: at.RPY.Rot(), T: at.Vec}
	flange, tip := d.v.at(pose.Apply(t.TCP.Inverse().T)), d.v.at(at.Vec)
	if !d.v.on.has(tip) || flange.minus(tip).length() < shortest {
		return
	}
	way := tip.minus(flange)
	tip = tip.plus(way.times(beyond / way.length()))
	d.has(signTool)
	d.open("g", "data-tool", t.Name)
	d.words("title", "tool "+t.Name+" at "+where)
	d.segment("axis", flange, tip)
	if d.v.on.has(tip) {
		d.shape("tip", arrowHead(flange, tip, headSize))
	}
	d.close("g")
	d.labels.axes = append(d.labels.axes, bounds([]pt{flange, tip}).grown(0.6))
}

func (p *page) sampleTool(c pt) {
	flange, tip := c.plus(pt{0, -1.8}), c.plus(pt{0, 1.8})
	p.line("axis", flange, tip)
	p.shape("tip", arrowHead(flange, tip, headSize))
}
