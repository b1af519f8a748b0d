package check

import (
	"fmt"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// moment compares the moment of tool and part with the flange's limit.
var moment = Rule{
	Finds: []manual.Page{{
		Name:     "moment-exceeded",
		Severity: diag.Error,
		Doc: `The moment of tool and part about the flange's centre is over "machine.moment".
It is g · |tool mass · centre of gravity + part mass · TCP|, the part's mass taken
at the TCP (and with "at_once" that of each part at the TCP of its zone, however many of
them hang in the tool while the arm moves, or none): what the flange bears when it is turned so that the lever lies level,
and the weight alone, without what acceleration adds. g is 9.80665 m/s², the
standard acceleration of gravity (3rd CGPM, 1901).`,
		Do:   `Use a shorter or lighter tool, or carry the part nearer to the flange.`,
		Bad:  "-    rated_load: 3\n+    rated_load: 3\n+    moment: 0.5 N·m\n",
		Good: "-    rated_load: 3\n+    rated_load: 3\n+    moment: 0.6 N·m\n",
	}},
	Layout: aboutFlange.single,
	Watch:  aboutFlange.groups,
}

var aboutFlange = hangs{func(t *layout.Tool, parts []layout.Hung) float64 { return t.MostMoment(parts...) }, checkMoment}

func checkMoment(c *Context, e *layout.Entry, parts []layout.Hung) {
	tool, limit := parts[0].By, c.Layout.Cell.Machine.Moment
	m, turn, advice := tool.MostMoment(parts...), together(parts)+" together turn", "a shorter or lighter tool turns it less"
	if len(parts) < min(e.AtOnce, e.Parts) {
		advice = "the other zones are empty then; " + advice
	}
	if alone := tool.MostMoment(); alone > m { // a part may hang on the other side of the flange
		m, turn, advice = alone, fmt.Sprintf("tool %q alone turns", tool.Name), "a shorter or lighter tool turns it less"
	}
	if limit.IsSet() && over(m, limit.V) {
		c.find("moment-exceeded", e.Stops[0].Place, "%s the flange with %.3f N·m, but it bears %.3f N·m", turn, m, limit.V).
			note(limit.Place, "the moment is given here").
			hint("%s", advice)
	}
}
