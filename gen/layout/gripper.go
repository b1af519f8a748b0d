package layout

import (
	"fmt"

	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Action is what a gripper does to close on a part, or to let it go: the move that writes
// its own output, what comes right behind, and the wait after that.
type Action struct {
	Place  diag.Place
	Output int
	Level  bool
	More   []Step  // other outputs, and pulses; each is a Set or a Dwell
	Settle float64 // s
	// SettlePlace is where the wait is written; zero where none is.
	SettlePlace diag.Place
	Holds       *Holds // of a grip: how it is asked whether it holds a part; nil where nothing tells

	// What the cell writes, for checks and papers: the action's own output is the first.
	Sets   []Set
	Pulses []Pulse
}

// Set is an output that gets a level.
type Set struct {
	Place  diag.Place
	Output int
	Level  bool
}

// String is the output with its level: "output 1 on".
func (s Set) String() string { return fmt.Sprintf("output %d %s", s.Output, wording.Level(s.Level)) }

// Pulse is an output that is on for some time.
type Pulse struct {
	Place   diag.Place
	Output  int
	Seconds float64
}

// Holds is the input that has a level while the gripper holds a part, and the other one
// while it holds none; Within is the time-out in seconds.
type Holds struct {
	Place  diag.Place
	Input  int
	Level  bool
	Within float64
	// WithinPlace is where the time-out is written.
	WithinPlace diag.Place
}

func action(a *plan.Action) Action {
	out := Action{Place: a.Place, Settle: a.Settle.V, SettlePlace: a.Settle.Place}
	for _, s := range a.Set {
		out.Sets = append(out.Sets, Set{s.Output.Place, s.Output.V, s.Level.V})
	}
	for i, s := range out.Sets {
		if i == 0 {
			out.Output, out.Level = s.Output, s.Level
			continue
		}
		out.More = append(out.More, Step{Place: s.Place, Kind: move.Set, Signal: s.Output, Level: s.Level})
	}
	for _, p := range a.Pulse {
		out.Pulses = append(out.Pulses, Pulse{p.Output.Place, p.Output.V, p.Seconds.V})
		out.More = append(out.More, pulse(p.Output.Place, p.Output.V, p.Seconds.V)...)
	}
	if h := a.Holds; h != nil {
		out.Holds = &Holds{h.Place, h.Input.V, h.Level.V, h.Within.V, h.Within.Place}
	}
	return out
}

// pulse is an output that is on for so many seconds.
func pulse(at diag.Place, output int, seconds float64) []Step {
	return []Step{
		{Place: at, Kind: move.Set, Signal: output, Level: true},
		{Place: at, Kind: move.Dwell, Seconds: seconds, Pulse: true},
		{Place: at, Kind: move.Set, Signal: output},
	}
}

// more is the moves of a transfer that the gripper has beyond one output for grip and release
// each: its other outputs and pulses, and the questions whether the part is held.
func (t *Tool) more() int {
	n := len(t.Grip.More) + len(t.Release.More)
	if t.Grip.Holds != nil {
		n += 2
	}
	return n
}

// Writes is where the cell says first that the tool's gripper writes an output, by its number.
func (t *Tool) Writes() map[int]diag.Place {
	at := map[int]diag.Place{}
	note := func(output int, place diag.Place) {
		if _, known := at[output]; !known {
			at[output] = place
		}
	}
	for _, a := range []*Action{&t.Grip, &t.Release} {
		for _, s := range a.Sets {
			note(s.Output, s.Place)
		}
		for _, p := range a.Pulses {
			note(p.Output, p.Place)
		}
	}
	return at
}
