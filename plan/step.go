package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

// Step is something to do beside carrying: before the first transfer, after
// the last one, or at a chain's stop. Exactly one of its fields is set.
type Step struct {
	Place diag.Place
	Set   *SetOutput
	Await *AwaitInput
	Dwell Real // s
	Note  Text
}

// SetOutput writes an output other than the tool's.
type SetOutput struct {
	Output Whole
	Level  Level
}

// AwaitInput waits until an input has a level; Within is the time-out in
// seconds, and Else says what happens after it.
type AwaitInput struct {
	Input  Whole
	Level  Level
	Within Real
	Else   Text // "stop" (default) or "go-on"
}

func (r *reader) steps(n decode.Node) []Step {
	var steps []Step
	r.Each(n, "steps", func(n decode.Node) { steps = append(steps, r.step(n)) })
	return steps
}

func (r *reader) step(n decode.Node) Step {
	s := Step{Place: n.Place()}
	written := r.Object(n, "a step",
		decode.May("set", func(n decode.Node) { s.Set = r.setOutput(n) }),
		decode.May("await", func(n decode.Node) { s.Await = r.awaitInput(n) }),
		decode.May("dwell", r.Quantity(&s.Dwell, unit.Time, decode.Positive)),
		decode.May("note", r.Text(&s.Note)),
	)
	if written != nil && len(written) != 1 {
		r.List.Errorf("bad-step", s.Place, "a step holds %d keys, wanted exactly one of set, await, dwell, note", len(written)).
			WithHint("write one step an entry, each behind a \"-\" of its own")
	}
	return s
}

func (r *reader) setOutput(n decode.Node) *SetOutput {
	s := new(SetOutput)
	r.Object(n, "set",
		decode.Must("output", r.Whole(&s.Output, 0, HighestSignal)),
		decode.Must("level", r.Level(&s.Level)),
	)
	return s
}

func (r *reader) awaitInput(n decode.Node) *AwaitInput {
	a := new(AwaitInput)
	r.Object(n, "await",
		decode.Must("input", r.Whole(&a.Input, 0, HighestSignal)),
		decode.Must("level", r.Level(&a.Level)),
		decode.May("within", r.Quantity(&a.Within, unit.Time, decode.Positive)),
		decode.May("else", r.OneOf(&a.Else, "stop", "go-on")),
	)
	return a
}
