package check

import (
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// speed compares every speed with the machine's limit.
var speed = Rule{
	Finds: []Find{{
		Name:     "speed-over-limit",
		Severity: diag.Error,
		Doc: `A speed is above the machine's. (The 250 mm/s that ISO 10218-1:2011, 5.6.2, names
for manual reduced speed are the controller's business while somebody proves the
program out; a plan may be faster.)`,
		Bad:  "-    speed: 1000\n+    speed: 200\n",
		Good: "-    speed: 1000\n+    speed: 250\n",
	}, {
		Name:     "near-over-travel",
		Severity: diag.Warning,
		Doc: `The straight lines at a slot are faster than the travel between slots. Common
practice, no source: the near speed is a tenth to a fifth of the travel speed.`,
		Bad:  "-  speed: {travel: 250, near: 50}\n+  speed: {travel: 50, near: 250}\n",
		Good: "-  speed: {travel: 250, near: 50}\n+  speed: {travel: 50, near: 50}\n",
	}},
	Layout: func(c *Context) {
		for _, f := range c.Layout.AllFigures() {
			checkSpeed(c, f)
		}
	},
}

func checkSpeed(c *Context, m *layout.Figures) {
	limit := c.Layout.Cell.Machine.Speed
	for _, s := range []struct {
		name  string
		value plan.Real
	}{{"travel", m.Travel}, {"near", m.Near}} {
		if limit.IsSet() && s.value.V > limit.V {
			c.find("speed-over-limit", s.value.Place, "the %s speed is %g mm/s, but the machine's limit is %g mm/s", s.name, s.value.V, limit.V).
				note(limit.Place, "the limit stands here")
		}
	}
	if m.Near.V > m.Travel.V {
		c.find("near-over-travel", m.Near.Place, "the near speed of %g mm/s is above the travel speed of %g mm/s", m.Near.V, m.Travel.V).
			hint("common practice is to go near a slot at a tenth to a fifth of the travel speed")
	}
}
