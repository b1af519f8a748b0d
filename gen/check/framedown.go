package check

import (
	"gridferry/gen/geom"
	"gridferry/gen/manual"
	"gridferry/gen/measure"
	"gridferry/plan/diag"
)

// frameDown finds frames whose Z points down.
var frameDown = Rule{
	Finds: []manual.Page{{
		Name:     "frame-z-down",
		Severity: diag.Warning,
		Doc: `The Z axis of a frame points down. The approach to a slot goes along that axis, so
the tool would come from below. Mostly two touched points were exchanged, or the
tool's orientation was written where the frame's belongs. Down means more than 5
degrees below the horizontal: a frame on an upright wall is no mistake.`,
		Do: `Touch the points so that X × Y points up, or take 180 degrees off the frame's roll or
pitch.`,
		Bad:  "-    left:  {at: [250, 60, 40]}\n+    left:  {at: [250, 60, 40]}\n+    lid:   {at: [250, 60, 90], rpy: [180, 0, 0]}\n",
		Good: "-    left:  {at: [250, 60, 40]}\n+    left:  {at: [250, 60, 40]}\n+    wall:  {at: [250, 60, 90], rpy: [90, 0, 0]}\n",
	}},
	Layout: checkFrameDown,
}

func checkFrameDown(c *Context) {
	for _, f := range c.Layout.Frames {
		angle := f.Base.R.Column(2).AngleTo(geom.Vec{Z: 1})
		if angle <= measure.Steepest || f.Fit != nil && f.Fit.IsOblique() {
			continue // or reported with its touched points
		}
		hint := "touch the points so that X × Y points up, or take 180 degrees off the roll"
		if f.Fit != nil && f.Fit.Flat() {
			hint = measure.FlatHint
		}
		c.find("frame-z-down", f.Place, "the Z axis of the frame %q points down, %.1f degrees away from upright", f.Name, angle).
			hint("%s", hint)
	}
}
