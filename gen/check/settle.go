package check

import (
	"fmt"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// settle asks for the time that a gripper takes.
var settle = Rule{
	Finds: []manual.Page{{
		Name:     "settle-missing",
		Severity: diag.Warning,
		Doc: `The gripper has no time to close or to open: "settle" is missing or 0, and the arm
moves on at once. Common practice, no source: 0.3 to 0.5 s for a pneumatic gripper,
longer for vacuum, until a sensor is fitted: a grip that is asked with "holds" needs none.`,
		Do: `Write how long the gripper needs until it holds, or has let go: "settle: 0.3". Its data
sheet or a stopwatch says how long.`,
		Bad:  "-      grip:    {output: 1, level: on,  settle: 0.4}\n+      grip:    {output: 1, level: on}\n",
		Good: "-      grip:    {output: 1, level: on,  settle: 0.4}\n+      grip:    {output: 1, level: on,  settle: 150 ms}\n",
	}, {
		Name:     "wait-long",
		Severity: diag.Warning,
		Doc: `A wait that is hardly meant: a gripper's "settle", pulse or "within" of more than a
minute, or a step's "dwell" or "within" of more than an hour. A bare number is seconds, and gripper times are often
given in milliseconds. Both bounds are common practice, no source.`,
		Do:   `A bare number is seconds: for milliseconds write "300 ms". If the wait is meant, leave it.`,
		Bad:  "-      grip:    {output: 1, level: on,  settle: 0.4}\n+      grip:    {output: 1, level: on,  settle: 400}\n",
		Good: "-      grip:    {output: 1, level: on,  settle: 0.4}\n+      grip:    {output: 1, level: on,  settle: 400 ms}\n",
	}},
	Layout: func(c *Context) { c.eachTool(checkSettle); checkWaits(c) },
}

// Beyond these, in seconds, a wait is taken for a mistake of unit.
const (
	longestSettle = 60.0
	longestWait   = 3600.0
)

func checkWaits(c *Context) {
	for s := range c.Layout.Steps() {
		if s.Seconds > longestWait {
			c.find("wait-long", s.Place, "this step may wait %g s, which is more than an hour", s.Seconds).hint("%s", secondsHint(s.Seconds))
		}
	}
}

func checkSettle(c *Context, t *layout.Tool) {
	for _, action := range []struct {
		name string
		*layout.Action
	}{{"grip", &t.Grip}, {"release", &t.Release}} {
		if action.Settle == 0 && action.Holds == nil {
			c.find("settle-missing", action.Place, "the tool %q has no settle time after %q, so the arm moves on at once", t.Name, action.name).
				hint("add \"settle:\"; common practice is 0.3 to 0.5 s for a pneumatic gripper, longer for vacuum")
		}
		if action.Settle > longestSettle {
			c.find("wait-long", action.SettlePlace, "the tool %q waits %g s after every %q, wanted %g s or less", t.Name, action.Settle, action.name, longestSettle).
				hint("%s", secondsHint(action.Settle))
		}
		for _, p := range action.Pulses {
			if p.Seconds > longestSettle {
				c.find("wait-long", p.Place, "the tool %q pulses output %d for %g s at every %q, wanted %g s or less", t.Name, p.Output, p.Seconds, action.name, longestSettle).
					hint("%s", secondsHint(p.Seconds))
			}
		}
	}
	if h := t.Grip.Holds; h != nil && h.Within > longestSettle {
		c.find("wait-long", h.WithinPlace, "the tool %q may wait %g s for input %d after every grip, wanted %g s or less", t.Name, h.Within, h.Input, longestSettle).
			hint("%s", secondsHint(h.Within))
	}
}

// secondsHint offers milliseconds, to those who left the unit out.
func secondsHint(seconds float64) string {
	return fmt.Sprintf("a bare number is seconds; if milliseconds are meant, write \"%g ms\"", seconds)
}
