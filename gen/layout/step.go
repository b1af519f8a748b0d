package layout

import (
	"iter"

	"gridferry/gen/move"
	"gridferry/plan"
)

// steps are the steps of the plan, a move each: a pulse is three of them.
func (r *resolver) steps(written []plan.Step) []Step {
	var out []Step
	for _, s := range written {
		step := Step{Place: s.Place}
		switch {
		case s.Go.IsSet():
			step.Kind, step.Pose = move.Travel, r.namedPose(s.Go)
		case s.Line.IsSet():
			step.Kind, step.Pose = move.Straight, r.namedPose(s.Line)
		case s.Set != nil:
			step.Kind, step.Signal, step.Level = move.Set, s.Set.Output.V, s.Set.Level.V
		case s.Pulse != nil:
			out = append(out, pulse(s.Place, s.Pulse.Output.V, s.Pulse.Seconds.V)...)
			continue
		case s.Await != nil:
			step.Kind, step.Signal, step.Level = move.Await, s.Await.Input.V, s.Await.Level.V
			step.Seconds, step.GoOn = s.Await.Within.V, s.Await.Else.V == "go-on"
		case s.Dwell.IsSet():
			step.Kind, step.Seconds = move.Dwell, s.Dwell.V
		default:
			step.Kind, step.Text = move.Note, s.Note.V
		}
		out = append(out, step)
	}
	return out
}

// Steps is every step beside carrying, and the tool that is on the flange then: the plan's in its order, with those of
// its changes of tool before the last.
func (l *Layout) Steps() iter.Seq2[*Step, *Tool] {
	return func(yield func(*Step, *Tool) bool) {
		on := l.ToolAt(1)
		all := []toolSteps{{l.Begin, on}}
		add := func(steps []Step) {
			if len(steps) > 0 { // which few of very many entries have
				all = append(all, toolSteps{steps, on})
			}
		}
		for _, e := range l.Entries {
			if e.Parts > 0 {
				on = l.Figures(e, e.Stops[0].Grid).Tool
			}
			for i := range e.Stops {
				add(e.Stops[i].Before)
				add(e.Stops[i].Then)
			}
		}
		all = append(all, l.changing()...)
		for _, some := range append(all, toolSteps{l.End, on}) {
			for i := range some.steps {
				if !yield(&some.steps[i], some.on) {
					return
				}
			}
		}
	}
}
