package check

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// settle asks for the time that a gripper takes.
var settle = Rule{
	Finds: []Find{{
		Name:     "settle-missing",
		Severity: diag.Warning,
		Doc: `The gripper has no time to close or to open: "settle" is missing or 0, and the arm
moves on at once. Common practice, no source: 0.3 to 0.5 s for a pneumatic gripper,
longer for vacuum, until a sensor is fitted.`,
		Bad:  "-      grip:    {output: 1, level: on,  settle: 0.4}\n+      grip:    {output: 1, level: on}\n",
		Good: "-      grip:    {output: 1, level: on,  settle: 0.4}\n+      grip:    {output: 1, level: on,  settle: 150 ms}\n",
	}},
	Layout: checkSettle,
}

func checkSettle(c *Context) {
	t := c.Layout.Motion.Tool
	for _, action := range []struct {
		name string
		layout.Signal
	}{{"grip", t.Grip}, {"release", t.Release}} {
		if action.Settle == 0 {
			c.find("settle-missing", action.Place, "the tool %q has no settle time after %q, so the arm moves on at once", t.Name, action.name).
				hint("add \"settle:\"; common practice is 0.3 to 0.5 s for a pneumatic gripper, longer for vacuum")
		}
	}
}
