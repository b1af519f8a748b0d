package render

import (
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// wound reports an axis that has no room to turn as it should, each grid and pose once.
func (p *program) wound(m *move.Move, how rules.Wound, w *rules.Winding) {
	rule, name := ruleBack, site(&m.Target)
	if how == rules.Nowhere {
		rule = ruleNowhere
	}
	if !p.found.isNew(finding{rule, diag.Place{}, name}) {
		return
	}
	from, to := w.Range()
	if how == rules.Nowhere {
		p.found.list.Errorf(rule, m.Place, "at %q the tool is turned by %.3f degrees about the vertical, and the axis goes from %g to %g", name, m.Turn, from, to).
			WithHint("turn the grid or the pose (its last angle), or say how far the axis goes: machine: {rotation: {range: [-360, 360]}} in the cell")
		return
	}
	p.found.list.Warnf(rule, m.Place, "on its way to %q the axis that turns the tool goes %.3f degrees the long way round, since it ends at %g and %g degrees", name, w.Way(), from, to).
		WithHint("give the tool room to turn there; where the axis goes further, say so in the cell: machine: {rotation: {range: [-360, 360]}}")
}
