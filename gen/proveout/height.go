package proveout

import (
	"math"

	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// Warn reports where the run would reach into parts if they were left in their slots
// although it carries none, each grid once.
func Warn(l *layout.Layout, o Options, list *diag.List) {
	if !o.Empty() {
		return
	}
	stacks := map[*layout.Grid]*stack{}
	for _, e := range l.Entries {
		for i := range e.Legs {
			see(stacks, e.Legs[i].From, false)
			see(stacks, e.Legs[i].To, true)
		}
	}
	warned := map[*layout.Grid]bool{}
	for _, e := range l.Entries {
		for i := range e.Stops {
			if s := &e.Stops[i]; !warned[s.Grid] && e.Parts > 0 {
				warned[s.Grid] = true
				// The lift leads in the direction of the approach, which may be slanted.
				stacks[s.Grid].warn(s, e.Kinds(), o.Lift, l.Figures(e, s.Grid).Away(s.Grid, s.Grid.Slot(0)).Z, list)
			}
		}
	}
}

// stack is the layers of one grid that matter to a run above them: from 0, -1 for
// none.
type stack struct {
	lowest int // that the arm goes to
	begun  int // the highest with a part before the job begins
	made   int // the highest that ever holds one: before the job or while it goes on
}

// see takes in the slots that one side of a leg goes to.
func see(stacks map[*layout.Grid]*stack, s layout.Sequence, puts bool) {
	g := s.Grid
	at := stacks[g]
	if at == nil {
		at = &stack{lowest: g.Layers, begun: highest(g)}
		at.made = at.begun
		stacks[g] = at
	}
	for one := range s.All() {
		at.lowest = min(at.lowest, int(one.Layer))
		if puts {
			at.made = max(at.made, int(one.Layer))
		}
		if at.lowest == 0 && (!puts || at.made == g.Layers-1) {
			return // nothing more to be learnt
		}
	}
}

// highest is the highest layer that holds a part before the first move.
func highest(g *layout.Grid) int {
	for i := g.Size() - 1; i >= 0; i-- {
		if g.Full.Has(i) {
			return int(g.Slot(i).Layer)
		}
	}
	return -1
}

// warn compares the lift with what the lowest layer that the arm goes to needs below
// the highest in which parts may stand. Parts that are there at the start certainly
// stand there unless somebody takes them out; those that the job puts there may be
// left from an earlier run. Up is how much higher a millimetre of lift leads.
func (k *stack) warn(s *layout.Stop, carried []*layout.Part, lift, up float64, list *diag.List) {
	if s.Grid.Part != nil {
		carried = []*layout.Part{s.Grid.Part}
	}
	begun, made := 0.0, 0.0
	for _, part := range carried {
		if part.Size.Z > 0 {
			begun, made = max(begun, k.need(s.Grid, k.begun, part)), max(made, k.need(s.Grid, k.made, part))
		}
	}
	rise := math.Round(1000*lift*up) / 1000
	var f *diag.Finding
	switch {
	case rise < begun:
		f = list.Warnf("lift-below-parts", s.Place, "lifted by %s mm, the tool comes %.1f mm below the top of parts that stand in %q",
			short(lift), begun-rise, s.Grid.Name)
	case rise < made:
		f = list.Warnf("lift-below-parts", s.Place, "lifted by %s mm, the tool comes %.1f mm below the top of parts in %q if it is as full as the job makes it",
			short(lift), made-rise, s.Grid.Name)
	default:
		return
	}
	if up <= 0 {
		f.WithHint("take them out before the prove-out: no lift leads above them")
		return
	}
	f.WithHint("take them out before the prove-out, or lift by %g mm or more with --lift", math.Ceil(max(begun, made)/up))
}

// need is how far the lowest layer has to be lifted to be above parts in another one;
// what does not stand needs nothing.
func (k *stack) need(g *layout.Grid, layer int, part *layout.Part) float64 {
	if layer < 0 {
		return 0
	}
	_, top := g.Pattern.Level(layer)
	low, _ := g.Pattern.Level(k.lowest)
	return top - low + part.Size.Z - part.Grip
}
