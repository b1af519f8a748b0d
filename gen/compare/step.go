package compare

import (
	"iter"

	"gridferry/gen/family/reads"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Step is one thing that a side does. Knows says which fields of the move are known;
// its Place is the line of the side's own text, its Base the pose in the base.
type Step struct {
	move.Move
	Turn  geom.Rot // of the tool, in the base
	Knows Facts
	Rest  reads.Rest
	// Changed marks the first motion of a program behind a stop for another tool: it may be a
	// line where a travel could not be slow.
	Changed bool
	Line    int // of the program; of a plan, that of the move's place
}

// Facts is what a side knows of a step.
type Facts uint16

// The facts.
const (
	At Facts = 1 << iota // where the tool centre point goes
	Turned
	Speed
	FlyBy
	Frame
	Tool
	Load
	Centre  // of gravity of the load
	Inertia // of the load
	Signal
	Level
	Seconds
	GoOn
	Text
	Target

	Chosen = Frame | Tool | Load | Centre | Inertia // what a select chooses, and a motion may repeat
)

func (f Facts) has(one Facts) bool { return f&one == one }

// Side is one of two things to compare.
type Side struct {
	Name string
	// Steps goes through what the side does, again each time. Err is what kept a
	// pass from its end.
	Steps iter.Seq[Step]
	Err   func() error
	// Form is the family that the side is written in; "" for a plan's own list, whose
	// steps know their transfers and slots. Knows is which kinds of step the form has.
	Form  string
	Knows func(move.Kind) bool
	// Beside goes through the lines beside the moves; nil for a plan.
	Beside iter.Seq[*line]
	// Half is half a step of the side's figures; zero for values that are not rounded.
	Half Tolerance
}

// Tolerance is how much each quantity may differ: mm, degrees, mm/s, seconds, kg, kg·m².
type Tolerance struct{ Length, Angle, Speed, FlyBy, Time, Mass, Inertia float64 }

// rounding is what arithmetic alone may do to a value.
const rounding = 1e-6

// squareMetre is how many of them a square millimetre is: moments of inertia are that much
// smaller figures.
const squareMetre = 1e-6

// within is how far a value of b may lie above and below that of a and both still be
// the same. Of two sides that are rounded alike, the same figures stand for the same
// value, and the next ones are twice half a step away; rounded otherwise, both may be
// off. A speed and a fly-by are rounded down: the value of a side lies less than a step
// of its own above its figure, so that b is above a by less than a whole step of a.
func within(a, b Tolerance) (above, below Tolerance) {
	if a == b {
		same := a.plus(Tolerance{}, rounding)
		return same, same
	}
	above = a.plus(b, rounding)
	below = above
	above.Speed, above.FlyBy = cut(a.Speed), cut(a.FlyBy)
	below.Speed, below.FlyBy = cut(b.Speed), cut(b.FlyBy)
	return above, below
}

// cut is how much a figure loses at most that is rounded down: less than a whole step.
func cut(half float64) float64 { return max(2*half-rounding, rounding) }

// plus is the sum of two bounds and what arithmetic does.
func (t Tolerance) plus(o Tolerance, more float64) Tolerance {
	return Tolerance{
		t.Length + o.Length + more, t.Angle + o.Angle + more, t.Speed + o.Speed + more, t.FlyBy + o.FlyBy + more,
		t.Time + o.Time + more, t.Mass + o.Mass + more, t.Inertia + o.Inertia + more*squareMetre,
	}
}

// Plan is a plan's side: its move list.
func Plan(name string, moves move.Seq) Side {
	return Side{
		Name: name, Knows: func(move.Kind) bool { return true }, Err: func() error { return nil },
		Steps: func(yield func(Step) bool) {
			var turns turns
			for m := range moves {
				s := Step{Move: m, Line: m.Line(), Knows: planFacts(&m)}
				if m.Kind.IsMotion() {
					s.Turn = turns.of(m.Base.RPY)
				}
				if !yield(s) {
					return
				}
			}
		},
	}
}

// reduced is the side without the steps that another form does not have, and without
// selects: what they choose is known from the motions behind them.
func (s Side) reduced(other Side) Side {
	steps := s.Steps
	s.Steps = func(yield func(Step) bool) {
		for step := range steps {
			if known := step.Kind == 0 || step.Kind != move.Select && other.Knows(step.Kind); known && !yield(step) {
				return
			}
		}
	}
	return s
}

// planFacts is what the list has of a move: everything that applies to it.
func planFacts(m *move.Move) Facts {
	switch m.Kind {
	case move.Select:
		return Chosen
	case move.Travel, move.Straight:
		return At | Turned | Speed | FlyBy | Chosen | Target
	case move.Grip, move.Release:
		return Signal | Level | Target
	case move.Set:
		return Signal | Level
	case move.Await:
		return Signal | Level | Seconds | GoOn
	case move.Dwell:
		return Seconds
	case move.Note:
	}
	return Text
}

// turns remembers the last rotation: most moves keep it.
type turns struct {
	rpy geom.RPY
	rot geom.Rot
	set bool
}

func (t *turns) of(a geom.RPY) geom.Rot {
	if !t.set || t.rpy != a {
		t.rpy, t.rot, t.set = a, a.Rot(), true
	}
	return t.rot
}
