package joints

import (
	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Nearest is the readings by which the TCP of a tool stands at a point in a configuration, those nearest to where the joints are; false
// where none are inside the ranges.
func (b Asker) Nearest(at move.Point, tool int, near *arm.Readings, as arm.Configuration) (arm.Readings, bool) {
	w := walk{c: &Choice{b: b.bench, runs: []run{{1, as.Index()}}}, at: *near}
	found, ok := w.solve(&spot{at, tool})
	if !ok {
		return *near, false
	}
	return b.arm.InRange(found.Readings, *near)
}

// Serve is the configurations, a bit for each by its index, in which the TCP of a tool can stand at a pose in the base with so much margin
// to the ends of every range. The turns of joints are those nearest to the middles of their ranges.
func (b Asker) Serve(at geom.Pose, tool int, margin float64) (serve uint8) {
	stands, _ := standsWith(b.arm, at, b.layout.Tools[tool-1].TCP)
	for i := range stands {
		if r := &stands[i].Readings; !b.arm.Short(r, margin) {
			serve |= uint8(b.maskOf(*r))
		}
	}
	return serve
}

// Admits is the configurations that the plan asks for at the end of a motion, likewise.
func (b Asker) Admits(m *move.Move) uint8 { return uint8(b.asked(m)) }
