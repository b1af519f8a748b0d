package check

import (
	"gridferry/gen/manual"
	"gridferry/gen/measure"
	"gridferry/plan/diag"
)

// measured says how far touched frames, tools and grids can be trusted.
var measured = Rule{
	Finds: []manual.Page{{
		Name:     measure.RuleTooLarge,
		Severity: diag.Error,
		Doc: `What was touched does not agree with itself: a point of a best fit, a pose of a
pivot or the fourth corner of a grid is farther off than its tolerance (0.5 mm where
none is written). Where leaving out one point makes the others agree, that is the one
to touch again; where several would do, the points cannot show which.`,
		Do: `Touch the point again that the message names, or all of them; a mark that was missed
and a tip that is bent look alike.`,
		Bad:  manual.Example(bestFitFrame("[250, 60, 40.9]", "0.2")),
		Good: manual.Example(bestFitFrame("[250, 60, 40]", "0.2")),
	}, {
		Name:     measure.RuleLarge,
		Severity: diag.Warning,
		Doc: `What was touched agrees with itself, but only just: a point is off by more than half
the tolerance.`,
		Do: `Touch the point again that the message names; if it stays so, give the tolerance that
your job can bear.`,
		Bad:  manual.Example(bestFitFrame("[250, 60, 40.9]", "0.4")),
		Good: manual.Example(bestFitFrame("[250, 60, 40.9]", "1")),
	}, {
		Name:     measure.RuleUnits,
		Severity: diag.Error,
		Doc: `The measured points of a best fit lie 10, 25.4, 100 or 1000 times as far apart as the
nominal ones, within 2 %, or the other way round: one set is written in centimetres,
inches, decimetres or metres.`,
		Do: `Write nominal and measured points in one unit, or each figure with its unit.`,
		Bad: `-    left:  {at: [250, 60, 40]}
+    left:
+      best_fit:
+        points:
+          - {nominal: [0, 0, 0], measured: [250, 60, 40]}
+          - {nominal: [0.4 in, 0, 0], measured: [508, 60, 40]}
+          - {nominal: [0, 0.4 in, 0], measured: [250, 318, 40]}
`,
		Good: manual.Example(bestFitFrame("[250, 60, 40]", "0.5")),
	}, {
		Name:     measure.RuleAngle,
		Severity: diag.Warning,
		Doc: `The points that a frame was touched at lie too near to each other for the slots in
it: a touch that is off by "touch_error" turns the frame so far that the farthest slot
moves by more than 0.5 mm. The angle is the touch error over the baseline.`,
		Do:   `Touch points that lie farther apart: as far as the slots reach, or farther.`,
		Bad:  "-    left:  {at: [250, 60, 40]}\n+    left:  {three_points: {origin: [250, 60, 40], along_x: [270, 60, 40], toward_y: [250, 210, 40]}}\n",
		Good: "-    left:  {at: [250, 60, 40]}\n+    left:  {three_points: {origin: [250, 60, 40], along_x: [400, 60, 40], toward_y: [250, 210, 40]}}\n",
	}, {
		Name:     measure.RuleOblique,
		Severity: diag.Warning,
		Doc: `The three points of a frame were touched along two directions that are less than 55
or more than 125 degrees apart. Any angle makes a frame, so it is no error; but who
touches along two edges is within a few degrees of a right angle, while a lost sign,
two exchanged axes or a point in another unit leads anywhere. Only an angle near a
right one lets such a slip be seen: touch "toward_y" about square to X.`,
		Do:   `Touch the third point well to the side of the line through the other two.`,
		Bad:  "-    left:  {at: [250, 60, 40]}\n+    left:  {three_points: {origin: [250, 60, 40], along_x: [450, 60, 40], toward_y: [400, 210, 40]}}\n",
		Good: "-    left:  {at: [250, 60, 40]}\n+    left:  {three_points: {origin: [250, 60, 40], along_x: [450, 60, 40], toward_y: [300, 210, 40]}}\n",
	}, {
		Name:     measure.RuleTip,
		Severity: diag.Warning,
		Doc: `The poses that a tool centre was worked out from are too much alike: they differ by
less than 60 degrees, or turn so nearly about one axis that the tip is uncertain by
more than 0.5 mm along it.`,
		Do:   `Touch the same point in more poses, with the tool turned far about both axes across it.`,
		Bad:  manual.Example(pivotTool("{at: [300, 41.0424, 127.2369], rpy: [20, 0, 0]}", "{at: [258.9576, 0, 127.2369], rpy: [0, 20, 0]}")),
		Good: manual.Example(pivotTool("{at: [300, 120, 240], rpy: [90, 0, 0]}", "{at: [180, 0, 240], rpy: [0, 90, 0]}")),
	}, {
		Name:     measure.RulePitchOff,
		Severity: diag.Error,
		Doc: `The corners of a grid were touched where its "nominal_pitch" does not put them, by
more than the tolerance over all columns or rows between them: a corner is off, or its
label is.`,
		Do: `Touch the corners again, or correct "nominal_pitch", "rows" or "columns": a wrong
label looks like a wrong pitch.`,
		Bad:  manual.Example(cornerGrid("[132, 30, 15]", "0.5")),
		Good: manual.Example(cornerGrid("[130, 30, 15]", "0.5")),
	}, {
		Name:     measure.RulePitchNear,
		Severity: diag.Warning,
		Doc: `The corners of a grid agree with its "nominal_pitch", but only just: they are off by
more than half the tolerance.`,
		Do:   `Touch the corner again that the message names, and look at the drawing of the tray.`,
		Bad:  manual.Example(cornerGrid("[130.4, 30, 15]", "0.5")),
		Good: manual.Example(cornerGrid("[130.2, 30, 15]", "0.5")),
	}},
	Layout: checkMeasured,
}

// bestFitFrame is the example plan with its left frame touched at four points, the
// first one where it is said.
func bestFitFrame(first, tolerance string) string {
	return `-    left:  {at: [250, 60, 40]}
+    left:
+      best_fit:
+        points:
+          - {name: near left, nominal: [0, 0, 0], measured: ` + first + `}
+          - {name: near right, nominal: [200, 0, 0], measured: [450, 60, 40]}
+          - {name: far left, nominal: [0, 200, 0], measured: [250, 260, 40]}
+          - {name: far right, nominal: [200, 200, 0], measured: [450, 260, 40]}
+        tolerance: ` + tolerance + "\n"
}

// pivotTool is the example plan with its tool measured, the tip at 120 mm, by three
// poses of which two are said.
func pivotTool(second, third string) string {
	return `-      tcp: {at: [0, 0, 120]}
+      tcp:
+        pivot:
+          - {at: [300, 0, 120], rpy: [0, 0, 0]}
+          - ` + second + `
+          - ` + third + "\n"
}

// cornerGrid is the example plan with its rack touched at three corners, the second
// one where it is said.
func cornerGrid(second, tolerance string) string {
	return `-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack:
+    frame: right
+    rows: 2
+    columns: 3
+    corners: {A1: [30, 30, 15], A3: ` + second + `, B1: [30, 90, 15]}
+    nominal_pitch: [50, 60]
+    tolerance: ` + tolerance + `
+    part: block
`
}

func checkMeasured(c *Context) {
	for _, f := range c.Layout.Frames {
		if f.Fit == nil {
			continue
		}
		c.verdicts(f.Fit.Judge())
		if v, oblique := f.Fit.Oblique(f.Base); oblique {
			c.verdicts([]measure.Verdict{v})
		}
	}
	for _, t := range c.Layout.Tools {
		if t.Fit != nil {
			c.verdicts(t.Fit.Judge())
		}
	}
	for _, g := range c.Layout.Grids {
		if g.Fit != nil {
			c.verdicts(g.Fit.Judge())
		}
	}
}

func (c *Context) verdicts(all []measure.Verdict) {
	for _, v := range all {
		report := c.find(v.Rule, v.Place, "%s", v.Message)
		if v.Hint != "" {
			report.hint("%s", v.Hint)
		}
	}
}
