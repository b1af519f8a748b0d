package proveout

import (
	"math"

	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// Warn tells where the run would reach into parts if they were left in their slots
// although it carries none, each grid once.
func Warn(l *layout.Layout, o Options, list *diag.List) {
	if !o.Empty() {
		return
	}
	told := map[*layout.Grid]bool{}
	for _, e := range l.Entries {
		for i := range e.Stops {
			if s := &e.Stops[i]; !told[s.Grid] && e.Parts > 0 {
				told[s.Grid] = true
				warn(s, e.Part, o, list)
			}
		}
	}
}

func warn(s *layout.Stop, part *layout.Part, o Options, list *diag.List) {
	if s.Grid.Part != nil {
		part = s.Grid.Part
	}
	if part == nil || part.Size.Z == 0 {
		return
	}
	// The lowest layer that is gone to, below the top of the highest that may stand.
	g := s.Grid
	top := g.At(slot.Slot{Layer: int32(g.Layers - 1)}).Z - g.At(slot.Slot{}).Z + part.Size.Z - part.Grip
	if o.Lift >= top {
		return
	}
	f := list.Warnf("lift-below-parts", s.Place, "lifted by %s mm, the tool comes %.1f mm below the top of parts that stand in %q", short(o.Lift), top-o.Lift, g.Name)
	f.WithHint("take them out before the first run, or lift by %g mm or more with --lift", math.Ceil(top))
}
