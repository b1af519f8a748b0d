package compare

import (
	"math"

	"gridferry/gen/align"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// judge holds two groups that belong together to each other and hands on what
// differs.
type judge struct {
	above, below Tolerance // how far b may lie off
	oneForm      bool      // texts are worded alike
	found        func(d delta)
	reported     int
}

func (j *judge) report(d delta) {
	j.reported++
	j.found(d)
}

// delta is one thing in which two steps part. Of a step that only one side has, the
// other is nil.
type delta struct {
	what     What
	a, b     *Step
	from, to float64  // for what can be measured or counted
	way      geom.Vec // of a position
}

// mostSteps is how many steps of a group are laid beside each other by what they
// are; longer ones (a plan may hold thousands of notes) go in order.
const mostSteps = 400

func (j *judge) groups(a, b *group) {
	if sameKinds(a.steps, b.steps) || len(a.steps) > mostSteps || len(b.steps) > mostSteps {
		for k := range max(len(a.steps), len(b.steps)) {
			j.steps(nth(a.steps, k), nth(b.steps, k))
		}
		return
	}
	j.aligned(a.steps, b.steps)
}

// nth is a step; nil where there is none.
func nth(steps []Step, k int) *Step {
	if k >= 0 && k < len(steps) {
		return &steps[k]
	}
	return nil
}

func sameKinds(a, b []Step) bool {
	if len(a) != len(b) {
		return false
	}
	for k := range a {
		if a[k].Kind != b[k].Kind {
			return false
		}
	}
	return true
}

// aligned lays steps beside each other so that most of them meet their like.
func (j *judge) aligned(a, b []Step) {
	for i, k := range align.Pairs(len(a), len(b), func(i, k int) float32 { return float32(alike(&a[i], &b[k])) }) {
		j.steps(nth(a, i), nth(b, k))
	}
}

// alike is how much two steps have in common: the kind, the target, the role, the
// output.
func alike(a, b *Step) int {
	switch {
	case a.Kind.IsMotion() && b.Kind.IsMotion():
		worth := 2
		if a.Kind == b.Kind {
			worth += 2
		}
		if a.Target == b.Target && a.Role == b.Role || a.Base.Dist(b.Base.Vec) < 1 {
			worth += 3
		}
		return worth
	case a.Kind != b.Kind:
		return 0
	case a.Signal != b.Signal:
		return 1
	case a.Role != b.Role:
		return 2
	}
	return 4
}

// steps compares two steps in everything that both state.
func (j *judge) steps(a, b *Step) {
	switch {
	case a == nil:
		j.report(delta{what: OnlyB, b: b})
		return
	case b == nil:
		j.report(delta{what: OnlyA, a: a})
		return
	case a.Kind != b.Kind && !(a.Kind.IsMotion() && b.Kind.IsMotion()):
		j.report(delta{what: OnlyA, a: a})
		j.report(delta{what: OnlyB, b: b})
		return
	}
	both, before := a.Knows&b.Knows, j.reported
	if a.Kind != b.Kind && (j.oneForm || !a.Changed && !b.Changed) {
		j.report(delta{what: Kinds, a: a, b: b})
	}
	j.pose(a, b, both)
	j.names(a, b, both)
	for _, f := range figures {
		if both.has(f.fact) {
			if from, to := f.value(a), f.value(b); to-from > f.within(&j.above) || from-to > f.within(&j.below) {
				j.report(delta{what: f.what, a: a, b: b, from: from, to: to})
			}
		}
	}
	if j.reported == before && j.oneForm && a.Rest.Differs(b.Rest) {
		j.report(delta{what: Rests, a: a, b: b})
	}
}

// figures is what can be measured or counted, and how far it may differ.
var figures = []struct {
	what   What
	fact   Facts
	value  func(*Step) float64
	within func(*Tolerance) float64
}{
	{Speeds, Speed, func(s *Step) float64 { return s.Speed }, func(t *Tolerance) float64 { return t.Speed }},
	{FlyBys, FlyBy, func(s *Step) float64 { return s.FlyBy }, func(t *Tolerance) float64 { return t.FlyBy }},
	{Loads, Load, func(s *Step) float64 { return s.Load }, func(t *Tolerance) float64 { return t.Mass }},
	{Centres, Centre, func(s *Step) float64 { return s.Centre().X }, length},
	{Centres, Centre, func(s *Step) float64 { return s.Centre().Y }, length},
	{Centres, Centre, func(s *Step) float64 { return s.Centre().Z }, length},
	{Inertias, Inertia, func(s *Step) float64 { return s.Inertia().X }, inertia},
	{Inertias, Inertia, func(s *Step) float64 { return s.Inertia().Y }, inertia},
	{Inertias, Inertia, func(s *Step) float64 { return s.Inertia().Z }, inertia},
	{Signals, Signal, func(s *Step) float64 { return float64(s.Signal) }, exactly},
	{Levels, Level, func(s *Step) float64 { return truth(s.Level) }, exactly},
	{Times, Seconds, func(s *Step) float64 { return s.Seconds }, func(t *Tolerance) float64 { return t.Time }},
	{GoesOn, GoOn, func(s *Step) float64 { return truth(s.GoOn) }, exactly},
}

func exactly(*Tolerance) float64 { return 0.5 }

func length(t *Tolerance) float64 { return t.Length }

func inertia(t *Tolerance) float64 { return t.Inertia }

func truth(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

func (j *judge) pose(a, b *Step, both Facts) {
	if both.has(At) {
		way := b.Base.Sub(a.Base.Vec)
		if off := max(math.Abs(way.X), math.Abs(way.Y), math.Abs(way.Z)); off > j.above.Length {
			j.report(delta{what: Positions, a: a, b: b, to: way.Norm(), way: way})
		}
	}
	if both.has(Turned) && a.Turn != b.Turn {
		if turn := a.Turn.T().Mul(b.Turn).Angle(); turn > j.above.Angle {
			j.report(delta{what: Turns, a: a, b: b, to: turn})
		}
	}
}

// names compares what is given by name, or by number where a side has no names.
func (j *judge) names(a, b *Step, both Facts) {
	if both.has(Frame) && named(a.Frame, b.Frame, a.FrameNumber, b.FrameNumber) {
		j.report(delta{what: Frames, a: a, b: b, from: float64(a.FrameNumber), to: float64(b.FrameNumber)})
	}
	if both.has(Tool) && named(a.Tool, b.Tool, a.ToolNumber, b.ToolNumber) {
		j.report(delta{what: Tools, a: a, b: b, from: float64(a.ToolNumber), to: float64(b.ToolNumber)})
	}
	if both.has(Text) && a.Text != b.Text && (j.oneForm || a.Kind == 0) {
		j.report(delta{what: Texts, a: a, b: b})
	}
	if a.Kind == move.Note && a.Pause != b.Pause || a.Kind == move.Select && a.ByHand != b.ByHand {
		j.report(delta{what: OnlyA, a: a})
		j.report(delta{what: OnlyB, b: b})
	}
}

// named reports whether two things differ by their names or, without, their numbers.
func named(a, b string, n, m int) bool {
	if a != "" && b != "" {
		return a != b
	}
	return n != m
}
