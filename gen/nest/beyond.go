package nest

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// Beyond is what a plan asks for that no loops here say, and where; "" for nothing.
func Beyond(l *layout.Layout) (what string, at diag.Place) {
	for _, f := range l.AllFigures() {
		for _, key := range []struct {
			what    string
			at      diag.Place
			written bool
		}{
			{"motion of " + f.Of, f.Place, f.Number > 0},
			{"a direction of the approach", f.AlongPlace, f.Along() != ""},
			{"a speed with a part", f.Loaded.Place, f.Loaded.IsSet()},
			{"poses on the way into a grid", f.EntryPlace, len(f.Entry) > 0},
			{"a part let go above its slot", f.ReleaseAbove.Place, f.ReleaseAbove.V > 0},
		} {
			if key.written {
				return key.what, key.at
			}
		}
	}
	for s := range l.Steps() {
		if s.Kind.IsMotion() {
			return "a step that moves the arm", s.Place
		}
	}
	for _, e := range l.Entries {
		if e.AtOnce > 1 {
			return "several parts at once", e.AtOncePlace
		}
		for i := range e.Stops {
			if before := e.Stops[i].Before; len(before) > 0 {
				return "steps before the arm goes down", before[0].Place
			}
		}
	}
	return "", diag.Place{}
}
