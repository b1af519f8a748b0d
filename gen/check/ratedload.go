package check

import (
	"cmp"
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// ratedLoad compares what hangs on the flange with what the machine carries.
var ratedLoad = Rule{
	Finds: []manual.Page{{
		Name:     "rated-load-exceeded",
		Severity: diag.Error,
		Doc: `Tool and part together are heavier than the machine's rated load, which includes the
gripper (common practice, no source).`,
		Do:   `Use a lighter tool, carry fewer parts at once, or correct the masses.`,
		Bad:  "-    rated_load: 3\n+    rated_load: 0.9\n",
		Good: "-    rated_load: 3\n+    rated_load: 0.95\n",
	}},
	Layout: onFlange.single,
	Watch:  onFlange.groups,
}

var onFlange = hangs{func(t *layout.Tool, parts []layout.Hung) float64 { return t.LoadWith(parts...) }, checkRatedLoad}

func checkRatedLoad(c *Context, e *layout.Entry, parts []layout.Hung) {
	tool, limit := parts[0].By, c.Layout.Cell.Machine.RatedLoad
	if total := tool.LoadWith(parts...); limit.IsSet() && over(total, limit.V) {
		report := c.find("rated-load-exceeded", e.Stops[0].Place, "%s together have %.3f kg, but the machine carries %.3f kg",
			together(parts), total, limit.V).note(limit.Place, "the rated load is given here")
		what, mass, at := "tool", tool.Mass, tool.MassPlace
		p := slices.MaxFunc(parts, func(a, b layout.Hung) int { return cmp.Compare(a.Part.Mass, b.Part.Mass) }).Part
		if total-tool.Mass > mass {
			what, mass, at = "part", p.Mass, p.MassPlace
		}
		report.note(at, "the mass of the %s is given here: %.3f kg", what, mass)
		switch {
		case mass > 10*limit.V && !over(mass/1000, limit.V): // far beyond a part that is merely too heavy
			report.hint("a bare number is kg; if grams are meant, write \"%g g\"", mass)
		case len(parts) > 1 && !over(tool.Mass+p.Mass, limit.V):
			report.hint("a smaller \"at_once\" carries fewer parts")
		}
	}
}

// over reports whether a sum is above its limit by more than rounding: 0.8 kg and
// 0.15 kg are not over 0.95 kg.
func over(sum, limit float64) bool { return sum > limit*(1+1e-12) }
