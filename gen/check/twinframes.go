package check

import (
	"cmp"
	"slices"

	"gridferry/gen/layout"
	"gridferry/plan/diag"
)

// twinFrames finds frames that were copied and never touched.
var twinFrames = Rule{
	Finds: []Find{{
		Name:     "twin-frames",
		Severity: diag.Warning,
		Doc: `Two frames lie within 0.1 mm and 0.1 degrees of each other. No two things are bolted
down that exactly: mostly one is a copy that was to be touched anew and was not.
A second name for one place is better written once. The base itself does not
count: a frame that is the base by another name is often meant.`,
		Bad:  "-    left:  {at: [250, 60, 40]}\n+    left:  {at: [250, 60, 40]}\n+    copy:  {at: [250, 60, 40.05]}\n",
		Good: "-    left:  {at: [250, 60, 40]}\n+    left:  {at: [250, 60, 40]}\n+    copy:  {at: [250, 60, 40.2]}\n",
	}},
	Layout: checkTwinFrames,
}

// How near twins are: closer than anybody touches the same corner twice.
const (
	twinDistance = 0.1 // mm
	twinAngle    = 0.1 // degrees
)

func checkTwinFrames(c *Context) {
	// Along X, a frame's twins are its neighbours.
	frames := slices.Clone(c.Layout.Frames[1:])
	slices.SortStableFunc(frames, func(a, b *layout.Frame) int { return cmp.Compare(a.Base.T.X, b.Base.T.X) })
	for i, f := range frames {
		for _, g := range frames[i+1:] {
			if g.Base.T.X-f.Base.T.X > twinDistance {
				break
			}
			if twins(f, g) {
				c.reportTwins(f, g)
				break // of ten copies, nine findings
			}
		}
	}
}

func twins(f, g *layout.Frame) bool {
	return f.Base.T.Dist(g.Base.T) <= twinDistance && f.Base.R.T().Mul(g.Base.R).Angle() <= twinAngle
}

func (c *Context) reportTwins(f, g *layout.Frame) {
	if f.Number > g.Number {
		f, g = g, f
	}
	c.find("twin-frames", g.Place, "the frames %q and %q are the same within %g mm and %g degrees", g.Name, f.Name, twinDistance, twinAngle).
		note(f.Place, "%q stands here", f.Name).
		hint("touch the points of %q anew, or use one frame for both", g.Name)
}
