package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// gravity doubts a centre of gravity that is not in the tool.
var gravity = Rule{
	Finds: []manual.Page{{
		Name:     "centre-of-gravity-far",
		Severity: diag.Warning,
		Doc: `The tool's centre of gravity is farther from the flange than its TCP, and farther
than 100 mm. A tool's mass lies between the flange and the tip; beyond the tip it
is mostly a slip of the decimal point or of the unit. (A tool shorter than 100 mm
may well carry its mass beside itself.)`,
		Do:   `Measure "centre_of_gravity" from the flange, in the axes of the flange, in mm.`,
		Bad:  "-      centre_of_gravity: [0, 0, 50]\n+      centre_of_gravity: [0, 0, 500]\n",
		Good: "-      centre_of_gravity: [0, 0, 50]\n+      centre_of_gravity: [40, 0, 90]\n",
	}},
	Layout: func(c *Context) { c.eachTool(checkGravity) },
}

// shortTool is the length up to which a centre of gravity is not doubted, mm.
const shortTool = 100

func checkGravity(c *Context, t *layout.Tool) {
	away, tip := t.CentreOfGravity.Norm(), t.TCP.T.Norm()
	if away > max(tip, shortTool) {
		c.find("centre-of-gravity-far", c.written(t).CentreOfGravity.Place,
			"the centre of gravity of %q is %.1f mm away from the flange, but its TCP only %.1f mm", t.Name, away, tip).
			hint("it is written [x, y, z] in mm on the flange, for the tool without a part")
	}
}

// written is the tool as the cell has it, for the places of its values.
func (c *Context) written(t *layout.Tool) *plan.Tool {
	for _, w := range c.Layout.Cell.Tools {
		if w.Name.V == t.Name {
			return w
		}
	}
	return new(plan.Tool)
}
