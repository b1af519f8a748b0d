package render

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// How far a tool may lean, in degrees, where only a turn about the vertical can
// be written: up to upright nobody says anything (0.01° moves the tip of a 200 mm
// tool by 0.03 mm); up to touched it is worth a warning, since a frame that was
// touched with a tool tip is never quite level (0.1 mm over a baseline of 100 mm
// is 0.06°, common practice, no source); beyond, the pose is another one than the
// plan asks for.
const (
	upright = 0.01
	touched = 0.5
)

// leans is how far tools lean from straight down, degrees; it remembers the last
// orientation, since most moves share one.
type leans struct {
	rpy  geom.RPY
	lean float64
	set  bool
}

func (l *leans) of(a geom.RPY) float64 {
	if !l.set || l.rpy != a {
		*l = leans{a, a.Rot().Column(2).AngleTo(geom.Vec{Z: -1}), true}
	}
	return l.lean
}

// site is the grid or the pose of a target.
func site(t *move.Target) string {
	if t.Grid != "" {
		return t.Grid
	}
	return t.Pose
}

// leaning reports a target that needs a tilted tool, each grid and pose once.
func (p *program) leaning(m *move.Move, lean float64) {
	name := site(&m.Target)
	if lean <= upright || !p.found.isNew(finding{ruleTilted, diag.Place{}, name}) {
		return
	}
	if lean <= touched {
		p.found.list.Warnf(ruleTilted, m.Place, "at %q the tool leans %.2f degrees from straight down, and this family writes it as upright", name, lean).
			WithHint("the tool centre point stays where the plan puts it; choose a family that writes whole orientations if the lean matters")
		return
	}
	p.found.list.Errorf(ruleTilted, m.Place, "at %q the tool leans %.2f degrees from straight down, and this family writes only the turn about the vertical", name, lean).
		WithHint("point the tool down there (rpy: [180, 0, YAW] in a level frame) or choose a family that writes whole orientations")
}
