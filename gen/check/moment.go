package check

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// moment compares the moment of tool and part with the flange's limit.
var moment = Rule{
	Finds: []Find{{
		Name:     "moment-exceeded",
		Severity: diag.Error,
		Doc: `The moment of tool and part about the flange's centre is over "machine.moment".
It is g · |tool mass · centre of gravity + part mass · TCP|, the part's mass taken
at the TCP (and with "at_once" that of a part in each zone): what the flange bears when it is turned so that the lever lies level,
and the weight alone, without what acceleration adds. g is 9.80665 m/s², the
standard acceleration of gravity (3rd CGPM, 1901).`,
		Bad:  "-    rated_load: 3\n+    rated_load: 3\n+    moment: 0.5 N·m\n",
		Good: "-    rated_load: 3\n+    rated_load: 3\n+    moment: 0.6 N·m\n",
	}},
	Layout: func(c *Context) { c.carried(checkMoment) },
}

func checkMoment(c *Context, p *layout.Part, e *layout.Entry, by *layout.Figures) {
	zones, limit := by.Zones(e), c.Layout.Cell.Machine.Moment
	if m := zones[0].MostMoment(p, zones); limit.IsSet() && over(m, limit.V) {
		c.find("moment-exceeded", e.Stops[0].Place, "%s together turn the flange with %.3f N·m, but it bears %.3f N·m", together(p, zones), m, limit.V).
			note(limit.Place, "the moment is given here").
			hint("a shorter or lighter tool turns it less")
	}
}
