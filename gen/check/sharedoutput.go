package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// sharedOutput keeps other steps away from the gripper's outputs.
var sharedOutput = Rule{
	Finds: []manual.Page{{
		Name:     "output-shared",
		Severity: diag.Error,
		Doc: `A step writes one of the outputs that belong to the tool's gripper. The part would fall, or
the gripper would be closed where the program takes it to be open.`,
		Do:   `Use another output in the step; the gripper is worked by the transfers alone.`,
		Bad:  "-transfers:\n+begin: [set: {output: 1, level: on}]\n+transfers:\n",
		Good: "-transfers:\n+begin: [set: {output: 2, level: on}]\n+transfers:\n",
	}},
	Layout: func(c *Context) { c.eachTool(checkShared) },
}

func checkShared(c *Context, t *layout.Tool) {
	writes := t.Writes()
	var last diag.Place // a pulse is several steps
	for s := range c.Layout.Steps() {
		if s.Place == last {
			continue
		}
		last = s.Place
		if owner, owned := writes[s.Signal]; s.Kind == move.Set && owned {
			c.find("output-shared", s.Place, "this step writes output %d, which works the gripper of the tool %q", s.Signal, t.Name).
				note(owner, "the gripper's output stands here").
				hint("give one of them another output; the gripper is worked by the transfers alone")
		}
	}
}
