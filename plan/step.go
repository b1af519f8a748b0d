package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
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

// steps reads a list of steps.
func steps(dst *[]Step) decode.Form {
	return decode.Shared("steps", decode.List{What: "steps", Each: func() decode.Form {
		*dst = append(*dst, Step{})
		return (*dst)[len(*dst)-1].form()
	}})
}

func (s *Step) form() decode.Form {
	keys := []decode.Key{
		decode.May("set", "Give an output other than the tool's a level.", setOutput(&s.Set)),
		decode.May("await", "Wait until an input has a level.", awaitInput(&s.Await)),
		decode.May("dwell", "Wait so long, in seconds.", decode.Quantity(&s.Dwell, unit.Time, decode.Positive)),
		decode.May("note", "A note in the program.", decode.Text(&s.Note)),
	}
	one := []schema.Rule{schema.With("minProperties", 1), schema.With("maxProperties", 1)}
	return decode.At(&s.Place, decode.Object{What: "a step", Keys: keys, Rules: one, Check: func(r *decode.Reader, written decode.Written) {
		if written != nil && len(written) != 1 {
			r.List.Errorf("bad-step", s.Place, "a step holds %d keys, wanted exactly one of set, await, dwell, note", len(written)).
				WithHint("write one step an entry, each behind a \"-\" of its own")
		}
	}})
}

func setOutput(dst **SetOutput) decode.Form {
	s := new(SetOutput)
	return keptAs(dst, s, decode.Object{What: "set", Keys: []decode.Key{signalKey("output", &s.Output), levelKey(&s.Level)}})
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
