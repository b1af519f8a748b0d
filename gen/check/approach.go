package check

import (
	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// approach asks for room between a part that is carried and those that stand.
var approach = Rule{
	Finds: []Find{{
		Name:     "approach-below-part",
		Severity: diag.Error,
		Doc: `The approach distance is less than the height of the part: above a slot, the part
in the gripper still hangs between those that stand beside it.`,
		Bad:  "-  approach: 60\n+  approach: 25\n",
		Good: "-  approach: 60\n+  approach: 40\n",
	}, {
		Name:     "approach-tight",
		Severity: diag.Warning,
		Doc: `The approach distance leaves less than 10 mm between the part in the gripper and those
that stand below. Common practice, no source: the tallest thing in the way plus 10
to 20 mm. Where the approach point is passed by, the part is lower than it beside the
slot already, as far as the gap to its neighbours lets one look: a parabola that leaves the
level way as far before the point as "fly_by" says, r, and joins the straight line as far below
it, is r·(1-√(g/r))² lower at a gap of g; any curve within the triangle of these three
points is lower by r-g at most. The parabola must leave those 10 mm, and no curve may reach
into a neighbour.`,
		Bad:  "-  approach: 60\n+  approach: 35\n",
		Good: "-  approach: 60\n+  approach: 40\n",
	}},
	Layout: func(c *Context) {
		c.carried(checkApproach)
		c.stops(checkDip)
	},
}

// headroom is what should be left above the tallest thing in the way, mm.
const headroom = 10

func checkApproach(c *Context, p *layout.Part, _ *layout.Entry, f *layout.Figures) {
	lift, at := f.Approach.V, f.Approach.Place
	switch high := p.Size.Z; {
	case lift < high:
		c.find("approach-below-part", at, "the approach distance is %g mm, but the part %q is %g mm high", lift, p.Name, high).
			note(p.Place, "the part is defined here").
			hint("common practice is the tallest thing in the way plus 10 to 20 mm: %g mm or more", high+headroom)
	case high > 0 && lift < high+headroom:
		c.find("approach-tight", at, "the approach distance of %g mm leaves %g mm above the part %q, which is %g mm high", lift, lift-high, p.Name, high).
			note(p.Place, "the part is defined here").
			hint("common practice is the tallest thing in the way plus 10 to 20 mm")
	}
}
