package check

import (
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// await asks for a time-out.
var await = Rule{
	Finds: []manual.Page{{
		Name:     "await-without-timeout",
		Severity: diag.Warning,
		Doc: `A step waits for an input without "within": when the signal never comes, the arm
stands still for ever and nobody knows why.`,
		Do:   `Say how long to wait, and what happens then: "within: 10".`,
		Bad:  "-transfers:\n+begin: [await: {input: 4, level: on}]\n+transfers:\n",
		Good: "-transfers:\n+begin: [await: {input: 4, level: on, within: 20}]\n+transfers:\n",
	}},
	Layout: func(c *Context) {
		for s := range c.Layout.Steps() {
			if s.Kind == move.Await && s.Seconds == 0 {
				c.find("await-without-timeout", s.Place, "input %d is waited for without a time-out", s.Signal).
					hint("add \"within:\", in seconds; \"else: go-on\" carries on after it, otherwise the program stops")
			}
		}
	},
}
