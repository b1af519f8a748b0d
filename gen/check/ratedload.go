package check

import (
	"fmt"

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

// carried goes through the parts that are moved and the figures by which they are, as many
// at once, all together once, with the first entry that does so.
func (c *Context) carried(look func(c *Context, p *layout.Part, e *layout.Entry, by *layout.Figures)) {
	type carrying struct {
		part  *layout.Part
		by    *layout.Figures
		zones int
	}
	seen := map[carrying]bool{}
	for _, e := range c.Layout.Entries {
		for i := range e.Stops {
			by := c.Layout.Figures(e, e.Stops[i].Grid)
			for _, part := range e.Kinds() {
				now := carrying{part, by, len(by.Zones(e))}
				if e.Parts > 0 && !seen[now] {
					seen[now] = true
					look(c, part, e, by)
				}
			}
		}
	}
}

func checkRatedLoad(c *Context, p *layout.Part, e *layout.Entry, by *layout.Figures) {
	zones := by.Zones(e)
	tool, limit := zones[0], c.Layout.Cell.Machine.RatedLoad
	parts := float64(len(zones)) * p.Mass
	if total := tool.Mass + parts; limit.IsSet() && over(total, limit.V) {
		report := c.find("rated-load-exceeded", e.Stops[0].Place, "%s together have %.3f kg, but the machine carries %.3f kg",
			together(p, zones), total, limit.V).note(limit.Place, "the rated load is given here")
		what, mass, at := "tool", tool.Mass, tool.MassPlace
		if parts > mass {
			what, mass, at = "part", p.Mass, p.MassPlace
		}
		report.note(at, "the mass of the %s is given here: %.3f kg", what, mass)
		switch {
		case mass > 10*limit.V && !over(mass/1000, limit.V): // far beyond a part that is merely too heavy
			report.hint("a bare number is kg; if grams are meant, write \"%g g\"", mass)
		case len(zones) > 1 && !over(tool.Mass+p.Mass, limit.V):
			report.hint("a smaller \"at_once\" carries fewer parts")
		}
	}
}

// together names what hangs on the flange: a tool and a part, or several in its zones.
func together(p *layout.Part, zones []*layout.Tool) string {
	if n := len(zones); n > 1 {
		return fmt.Sprintf("the tool of %q and %d parts %q", zones[0].Name, n, p.Name)
	}
	return fmt.Sprintf("tool %q and part %q", zones[0].Name, p.Name)
}

// over reports whether a sum is above its limit by more than rounding: 0.8 kg and
// 0.15 kg are not over 0.95 kg.
func over(sum, limit float64) bool { return sum > limit*(1+1e-12) }
