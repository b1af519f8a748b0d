package plan

import (
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// Step is something to do beside carrying: before the first transfer, after
// the last one, or at a chain's stop. Exactly one of its fields is set.
type Step struct {
	Place diag.Place
	Go    Text // a pose, by a travel
	Line  Text // a pose, by a straight line
	Set   *SetOutput
	Pulse *PulseOutput
	Await *AwaitInput
	Dwell Real // s
	Note  Text
}

// SetOutput gives an output a level: in a step one other than the tool's.
type SetOutput struct {
	Output Whole
	Level  Level
}

// PulseOutput switches an output on and, after so many seconds, off again.
type PulseOutput struct {
	Output  Whole
	Seconds Real
}

// AwaitInput waits until an input has a level; Within is the time-out in
// seconds, and Else says what happens after it.
type AwaitInput struct {
	Input  Whole
	Level  Level
	Within Real
	Else   Text // "stop" (default) or "go-on"
}

// steps reads a list of steps.
func steps(dst *[]Step) decode.Form {
	return decode.Shared("steps", decode.List{What: "steps", Each: func() decode.Form {
		*dst = append(*dst, Step{})
		return (*dst)[len(*dst)-1].form()
	}})
}

func (s *Step) form() decode.Form {
	keys := []decode.Key{
		decode.May("go", "Travel to a pose of the cell; out of a grid over its `entry` poses.", poseName(&s.Go)),
		decode.May("line", "Go to a pose of the cell in a straight line, at `near` speed.", poseName(&s.Line)),
		decode.May("set", "Give an output other than the tool's a level.", setOutput(&s.Set)),
		decode.May("pulse", "Switch an output on, wait, and switch it off again.", pulseOutput(&s.Pulse)),
		decode.May("await", "Wait until an input has a level.", awaitInput(&s.Await)),
		decode.May("dwell", "Wait so long, in seconds.", decode.Quantity(&s.Dwell, unit.Time, decode.Positive)),
		decode.May("note", "A note in the program.", decode.Text(&s.Note)),
	}
	one := []schema.Rule{schema.With("minProperties", 1), schema.With("maxProperties", 1)}
	return decode.At(&s.Place, decode.Object{What: "a step", Keys: keys, Rules: one, Check: func(r *decode.Reader, written decode.Written) {
		known := 0 // of the others it is said that there are no such keys
		for _, k := range keys {
			if written.Has(k.Name) {
				known++
			}
		}
		if written != nil && (known > 1 || len(written) == 0) {
			r.List.Errorf("bad-step", s.Place, "a step holds %d keys, wanted exactly one of %s", known, strings.Join(decode.Names(keys), ", ")).
				WithHint("write one step an entry, each behind a \"-\" of its own")
		}
	}})
}

func setOutput(dst **SetOutput) decode.Form {
	s := new(SetOutput)
	return keptAs(dst, s, decode.Object{What: "set", Keys: []decode.Key{signalKey("output", &s.Output), levelKey(&s.Level)}})
}

func pulseOutput(dst **PulseOutput) decode.Form {
	p := new(PulseOutput)
	return keptAs(dst, p, decode.Object{What: "pulse", Keys: []decode.Key{
		signalKey("output", &p.Output),
		decode.Must("seconds", "How long the output is on, in seconds.", decode.Quantity(&p.Seconds, unit.Time, decode.Positive)),
	}})
}

func awaitInput(dst **AwaitInput) decode.Form {
	a := new(AwaitInput)
	return keptAs(dst, a, decode.Object{What: "await", Keys: []decode.Key{
		signalKey("input", &a.Input),
		levelKey(&a.Level),
		decode.May("within", "The time-out, in seconds.", decode.Quantity(&a.Within, unit.Time, decode.Positive)).Else("the wait may last however long"),
		decode.May("else", "What happens after the time-out.", decode.OneOf(&a.Else, "stop", "go-on")).Default("stop"),
	}})
}
