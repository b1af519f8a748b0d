package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// speed compares every speed with the machine's limit.
var speed = Rule{
	Finds: []manual.Page{{
		Name:     "speed-over-limit",
		Severity: diag.Error,
		Doc: `A speed is above the machine's. (The 250 mm/s that ISO 10218-1:2011, 5.6.2, names
for manual reduced speed are the controller's business while somebody proves the
program out; a plan may be faster.)`,
		Do:   `Write a speed that the machine reaches, or correct "machine.speed".`,
		Bad:  "-    speed: 1000\n+    speed: 200\n",
		Good: "-    speed: 1000\n+    speed: 250\n",
	}, {
		Name:     "near-over-travel",
		Severity: diag.Warning,
		Doc: `The straight lines at a slot are faster than the travel between slots. Common
practice, no source: the near speed is a tenth to a fifth of the travel speed.`,
		Do:   `Make "near" the slower one of the two.`,
		Bad:  "-  speed: {travel: 250, near: 50}\n+  speed: {travel: 50, near: 250}\n",
		Good: "-  speed: {travel: 250, near: 50}\n+  speed: {travel: 50, near: 50}\n",
	}, {
		Name:     "loaded-over-travel",
		Severity: diag.Warning,
		Doc: `A travel with a part is faster than one without. Mostly a grid or an entry has a slower
"travel", and "loaded" still is the plan's: each key goes by itself.`,
		Do:   `Make "loaded" no faster than "travel", or leave it out.`,
		Bad:  "-  speed: {travel: 250, near: 50}\n+  speed: {travel: 250, near: 50, loaded: 300}\n",
		Good: "-  speed: {travel: 250, near: 50}\n+  speed: {travel: 250, near: 50, loaded: 250}\n",
	}},
	Layout: func(c *Context) {
		seen := map[diag.Place]bool{}
		for _, f := range c.Layout.AllFigures() {
			checkSpeed(c, f, seen)
		}
	},
}

// checkSpeed looks at speeds that were not seen yet: most figures have the plan's.
func checkSpeed(c *Context, m *layout.Figures, seen map[diag.Place]bool) {
	limit := c.Layout.Cell.Machine.Speed
	news := false
	for _, s := range []struct {
		name  string
		value plan.Real
	}{{"travel", m.Travel}, {"near", m.Near}, {"loaded", m.Loaded}} {
		if seen[s.value.Place] {
			continue
		}
		seen[s.value.Place], news = true, true
		if limit.IsSet() && s.value.V > limit.V {
			c.find("speed-over-limit", s.value.Place, "the %s speed is %g mm/s, but the machine's limit is %g mm/s", s.name, s.value.V, limit.V).
				note(limit.Place, "the limit stands here")
		}
	}
	if !news {
		return
	}
	if m.Near.V > m.Travel.V {
		c.find("near-over-travel", m.Near.Place, "the near speed of %g mm/s is above the travel speed of %g mm/s", m.Near.V, m.Travel.V).
			note(elsewhere(m.Travel.Place, m.Near.Place), "the travel speed stands here").
			hint("common practice is to go near a slot at a tenth to a fifth of the travel speed")
	}
	if m.Loaded.V > m.Travel.V {
		c.find("loaded-over-travel", m.Travel.Place, "the arm travels at %g mm/s with a part, and at %g mm/s without one", m.Loaded.V, m.Travel.V).
			note(m.Loaded.Place, "the speed with a part stands here").
			hint("write \"loaded: %g\" beside it, or a faster \"travel\"", m.Travel.V)
	}
}

// elsewhere is a place, unless it is in the line of another one, which is shown anyway.
func elsewhere(at, shown diag.Place) diag.Place {
	if at.File == shown.File && at.Line == shown.Line {
		return diag.Place{}
	}
	return at
}
