package check

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// ratedLoad compares what hangs on the flange with what the machine carries.
var ratedLoad = Rule{
	Finds: []Find{{
		Name:     "rated-load-exceeded",
		Severity: diag.Error,
		Doc: `Tool and part together are heavier than the machine's rated load, which includes the
gripper (common practice, no source).`,
		Bad:  "-    rated_load: 3\n+    rated_load: 0.9\n",
		Good: "-    rated_load: 3\n+    rated_load: 0.95\n",
	}},
	Layout: func(c *Context) {
		c.carried(checkRatedLoad)
	},
}

// carried goes through the parts that are moved and the figures by which they are,
// both together once, with the first entry that does so.
func (c *Context) carried(look func(c *Context, p *layout.Part, e *layout.Entry, by *layout.Figures)) {
	type pair struct {
		part *layout.Part
		by   *layout.Figures
	}
	seen := map[pair]bool{}
	for _, e := range c.Layout.Entries {
		for i := range e.Stops {
			now := pair{e.Part, c.Layout.Figures(e, e.Stops[i].Grid)}
			if e.Parts > 0 && e.Part != nil && !seen[now] {
				seen[now] = true
				look(c, e.Part, e, now.by)
			}
		}
	}
}

func checkRatedLoad(c *Context, p *layout.Part, e *layout.Entry, by *layout.Figures) {
	tool, limit := by.Tool, c.Layout.Cell.Machine.RatedLoad
	if total := tool.Mass + p.Mass; limit.IsSet() && over(total, limit.V) {
		report := c.find("rated-load-exceeded", e.Stops[0].Place, "tool %q and part %q together have %.3f kg, but the machine carries %.3f kg",
			tool.Name, p.Name, total, limit.V).note(limit.Place, "the rated load is given here")
		what, mass, at := "tool", tool.Mass, tool.MassPlace
		if p.Mass > mass {
			what, mass, at = "part", p.Mass, p.MassPlace
		}
		report.note(at, "the mass of the %s is given here: %.3f kg", what, mass)
		if mass > 10*limit.V && !over(mass/1000, limit.V) { // far beyond a part that is merely too heavy
			report.hint("a bare number is kg; if grams are meant, write \"%g g\"", mass)
		}
	}
}

// over reports whether a sum is above its limit by more than rounding: 0.8 kg and
// 0.15 kg are not over 0.95 kg.
func over(sum, limit float64) bool { return sum > limit*(1+1e-12) }
