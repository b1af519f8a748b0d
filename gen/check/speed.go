package check

import "gridferry/plan"

// speed holds every speed to what the machine allows.
var speed = Rule{
	Names:  []string{"speed-over-limit", "near-over-travel"},
	Doc:    "No speed is above the machine's, and the straight lines at a slot are not faster than the travel between slots.",
	Layout: checkSpeed,
}

func checkSpeed(c *Context) {
	m, limit := c.Layout.Motion.Source, c.Layout.Cell.Machine.Speed
	for _, s := range []struct {
		name  string
		value plan.Real
	}{{"travel", m.Travel}, {"near", m.Near}} {
		if limit.IsSet() && s.value.V > limit.V {
			c.List.Errorf("speed-over-limit", s.value.Place, "the %s speed is %g mm/s, but the machine's limit is %g mm/s", s.name, s.value.V, limit.V).
				WithNote(limit.Place, "the limit stands here")
		}
	}
	if m.Near.V > m.Travel.V {
		c.List.Warnf("near-over-travel", m.Near.Place, "the near speed of %g mm/s is above the travel speed of %g mm/s", m.Near.V, m.Travel.V).
			WithHint("common practice is to go near a slot at a tenth to a fifth of the travel speed")
	}
}
