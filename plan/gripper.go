package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

// Action is what a gripper does to close on a part, or to let it go.
type Action struct {
	Place  diag.Place
	Set    []*SetOutput // in the order in which they are written; one where "output" and "level" say it
	Pulse  []*PulseOutput
	Settle Real // s
	Holds  *Holds
}

// Holds is the input by which a gripper tells whether it holds a part: it has the level
// then, and the other one while nothing is held.
type Holds struct {
	Place  diag.Place
	Input  Whole
	Level  Level
	Within Real // s, the time-out
}

// form reads the keys that grip and release share, and more.
func (a *Action) form(what string, more ...decode.Key) decode.Form {
	one := new(SetOutput)
	keys := append([]decode.Key{
		decode.May("output", "Number of the output, where there is one.", decode.Whole(&one.Output, 0, HighestSignal)).Else("`set` says it"),
		decode.May("level", "Whether the output gets high (`on`) or low (`off`).", decode.Level(&one.Level)).Else("`set` says it"),
		decode.May("set", "Outputs by number, each with its level; the first pair is the action's own, the others follow in the order in which they are written.", a.sets()).
			Else("`output` and `level` say it"),
		decode.May("pulse", "Outputs by number, each with how long it is on, in seconds; behind the levels, in the order in which they are written. "+
			"More than 60 s is a warning.", a.pulses()).Else("none"),
		decode.May("settle", "How long to wait after it, in seconds. More than 60 s is a warning, since 350 may be meant in ms.",
			decode.Quantity(&a.Settle, unit.Time, decode.NotNegative)).Default(0),
	}, more...)
	form := decode.Object{What: what, Keys: keys, Rules: oneOrSeveral, Check: func(r *decode.Reader, written decode.Written) {
		a.oneOrSeveral(r, what, written, one)
	}}
	return decode.At(&a.Place, decode.Shared(what, form))
}

// oneOrSeveral holds an action to one way of saying which outputs it gives a level.
func (a *Action) oneOrSeveral(r *decode.Reader, what string, written decode.Written, one *SetOutput) {
	single, several := written.Has("output") || written.Has("level"), written.Has("set")
	switch {
	case written == nil:
	case single && several:
		at := written["output"]
		if at.IsZero() {
			at = written["level"]
		}
		r.List.Errorf("two-outputs", at, "%s has \"set\" and an output of its own beside it", what).
			WithNote(written["set"], "\"set\" stands here").WithHint("write every output into \"set\", the action's own first")
	case several:
	case !single:
		r.List.Errorf("missing-key", a.Place, "%s needs \"output\" and \"level\", or \"set\"", what).
			WithHint("one output: \"output: 1, level: on\"; several: \"set: {1: on, 2: off}\"")
	default:
		for _, key := range []string{"output", "level"} {
			if !written.Has(key) {
				r.List.Errorf("missing-key", a.Place, "%s needs %q", what, key)
			}
		}
		if one.Output.IsSet() && one.Level.IsSet() {
			a.Set = []*SetOutput{one}
		}
	}
}

// sets reads outputs and their levels.
func (a *Action) sets() decode.Form {
	return decode.Numbered{What: "outputs, each with its level", Example: "{1: on, 2: off}", Low: 0, High: HighestSignal, Each: func(output Whole) decode.Form {
		return decode.Level(&added(&a.Set, SetOutput{Output: output}).Level)
	}}
}

// pulses reads outputs and how long they are on.
func (a *Action) pulses() decode.Form {
	return decode.Numbered{What: "outputs, each with its time", Example: "{3: 0.2}", Low: 0, High: HighestSignal, Each: func(output Whole) decode.Form {
		return decode.Quantity(&added(&a.Pulse, PulseOutput{Output: output}).Seconds, unit.Time, decode.Positive)
	}}
}

// holdsKey is the key that only grip has.
func (a *Action) holdsKey() decode.Key {
	h := new(Holds)
	return decode.May("holds", "The input that tells whether a part is held: asked after every grip, before every place, and at the start, when nothing may be held.",
		keptAs(&a.Holds, h, decode.At(&h.Place, decode.Object{What: "holds", Keys: []decode.Key{
			signalKey("input", &h.Input),
			decode.Must("level", "The level that it has while a part is held.", decode.Level(&h.Level)),
			decode.Must("within", "The time-out, in seconds: then the program stops. More than 60 s is a warning.", decode.Quantity(&h.Within, unit.Time, decode.Positive)),
		}}))).Else("nothing is asked")
}
