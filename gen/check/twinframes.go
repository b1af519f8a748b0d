package check

import (
	"math"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// twinFrames finds frames that were copied and never touched.
var twinFrames = Rule{
	Finds: []manual.Page{{
		Name:     "twin-frames",
		Severity: diag.Warning,
		Doc: `Two frames lie within 0.1 mm and 0.1 degrees of each other. No two things are bolted
down that exactly: mostly one is a copy that was to be touched again and was not.
A second name for one place is better written once. The base itself does not
count: a frame that is the base by another name is often meant.`,
		Do:   `Touch the points of one of the two again, or use one frame for both.`,
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
	spots := map[spot][]*layout.Frame{}
	for _, f := range c.Layout.Frames[1:] {
		if twin := twinOf(f, spots); twin != nil {
			c.reportTwins(twin, f) // of ten copies, nine findings
		}
		if at := spotOf(f); len(spots[at]) < mostNeighbours {
			spots[at] = append(spots[at], f)
		}
	}
}

// spot is a cube as wide as twins may be apart: the twins of a frame are in its
// own or in one beside it.
type spot [3]int64

// mostNeighbours is how many frames at one spot others are compared with: a
// cell has few there, and a made-up one a hundred thousand.
const mostNeighbours = 100

func spotOf(f *layout.Frame) spot {
	cube := func(v float64) int64 { return int64(math.Floor(v / twinDistance)) }
	return spot{cube(f.Base.T.X), cube(f.Base.T.Y), cube(f.Base.T.Z)}
}

// twinOf is the first of the frames so far that lies where f does.
func twinOf(f *layout.Frame, spots map[spot][]*layout.Frame) *layout.Frame {
	var first *layout.Frame
	at := spotOf(f)
	for k := range int64(27) {
		for _, g := range spots[spot{at[0] + k%3 - 1, at[1] + k/3%3 - 1, at[2] + k/9 - 1}] {
			if (first == nil || g.Number < first.Number) && twins(f, g) {
				first = g
			}
		}
	}
	return first
}

func twins(f, g *layout.Frame) bool {
	return f.Base.T.Dist(g.Base.T) <= twinDistance && f.Base.R.T().Mul(g.Base.R).Angle() <= twinAngle
}

func (c *Context) reportTwins(f, g *layout.Frame) {
	c.find("twin-frames", g.Place, "the frames %q and %q are the same within %g mm and %g degrees", g.Name, f.Name, twinDistance, twinAngle).
		note(f.Place, "%q stands here", f.Name).
		hint("touch the points of %q again, or use one frame for both", g.Name)
}
