package check

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// gripperOutput finds a gripper that cannot work.
var gripperOutput = Rule{
	Finds: []Find{{
		Name:     "gripper-never-moves",
		Severity: diag.Error,
		Doc:      `Grip and release write the same level to the same output, so the gripper never moves.`,
		Bad:      "-      release: {output: 1, level: off, settle: 0.3}\n+      release: {output: 1, level: on, settle: 0.3}\n",
		Good:     "",
	}},
	Layout: func(c *Context) { c.eachTool(checkGripperOutput) },
}

func checkGripperOutput(c *Context, t *layout.Tool) {
	if t.Grip.Output == t.Release.Output && t.Grip.Level == t.Release.Level {
		c.find("gripper-never-moves", t.Release.Place, "%q and %q of the tool %q both write output %d %s", "grip", "release", t.Name, t.Grip.Output, wording.Level(t.Grip.Level)).
			note(t.Grip.Place, "%q stands here", "grip").
			hint("one of the two needs the other level")
	}
}
