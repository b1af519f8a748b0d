package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// load holds what hangs on the flange to the machine's payload, and asks for
// the mass of what is carried.
var load = Rule{
	Names: []string{"payload-exceeded", "part-unknown"},
	Doc:   "Tool and part together stay within the machine's payload, and every part that is carried has a known mass.",
	Layout: func(c *Context) {
		seen := map[*layout.Part]bool{}
		for _, e := range c.Layout.Entries {
			if e.Parts > 0 && !seen[e.Part] {
				seen[e.Part] = true
				checkLoad(c, e)
			}
		}
	},
}

func checkLoad(c *Context, e *layout.Entry) {
	tool, limit := c.Layout.Motion.Tool, c.Layout.Cell.Machine.Payload
	if e.Part == nil {
		c.List.Errorf("part-unknown", e.Stops[0].Place, "the grid %q does not say which part it holds, so the load is not known", e.Stops[0].Grid.Name).
			WithHint("add \"part:\" to the grid, and the part's mass under \"parts\"")
		return
	}
	if total := tool.Mass + e.Part.Mass; limit.IsSet() && total > limit.V {
		c.List.Errorf("payload-exceeded", e.Stops[0].Place, "tool %q and part %q together have %.3f kg, but the machine carries %.3f kg",
			tool.Name, e.Part.Name, total, limit.V).WithNote(limit.Place, "the payload stands here")
	}
}

// holding is what a watcher knows of the jaw.
type holding struct {
	part bool
	from move.Target
}
