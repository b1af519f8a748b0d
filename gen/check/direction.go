package check

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// direction asks that the tool points where it goes.
var direction = Rule{
	Finds: []manual.Page{{
		Name:     "tool-points-away",
		Severity: diag.Error,
		Doc: `The tool's axis at the slots of a grid, +Z of its TCP, which points out of the tool, leaves
the approach direction by 90 degrees or more: the flange would go in before the tool,
through what the part stands on. The approach direction leads from the approach point to
the slot: -Z of the grid's frame, unless "along" says otherwise, so a frame may lie on its
side. Mostly the yaw alone was written: "[0, 0, 90]" points up,
"[180, 0, 90]" down.`,
		Do: `Turn the tool so that it looks along the approach: "rpy: [180, 0, 0]" of the grid points it
straight down in a level frame.`,
		Bad:  turnedGrid("[0, 0, 90]"),
		Good: turnedGrid("[180, 0, 90]"),
	}, {
		Name:     "tool-slanted",
		Severity: diag.Warning,
		Doc: `The tool's axis at the slots of a grid leaves the approach direction by more than 20
degrees (and less than 90): the tool goes in slanting. That may be meant, but more often it
is a slip in "rpy".`,
		Do:   `Write "along: tool" for an approach along the tool's axis, or turn the tool.`,
		Bad:  turnedGrid("[150, 0, 0]"),
		Good: turnedGrid("[180, 0, 0]"),
	}, {
		Name:     "tool-points-up",
		Severity: diag.Warning,
		Doc: `At the clear pose, or the start pose, the tool points up, more than 20 degrees above the
horizontal in the base, and has to turn over on the way to a slot. Mostly the yaw alone was
written.`,
		Do:   `Turn the tool down in that pose, or name another pose.`,
		Bad:  "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [330, 0, 300], rpy: [0, 0, 90]}\n",
		Good: "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [330, 0, 300], rpy: [180, 0, 90]}\n",
	}},
	Layout: checkDirection,
}

// turnedGrid is the example plan with the tool turned at its rack.
func turnedGrid(rpy string) manual.Example {
	return manual.Example(`-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], rpy: ` + rpy + `, part: block}
`)
}

// steepTilt is how far the tool's axis may leave the direction that it goes in, degrees,
// and faint what rounding may do to an angle.
const steepTilt, faint = 20, 1e-6

func checkDirection(c *Context) {
	for _, g := range c.Layout.Grids {
		for _, by := range c.rulingAt(g) {
			checkSlots(c, g, by)
		}
	}
	type posed struct {
		pose *layout.NamedPose
		of   *layout.Tool
	}
	seen := map[posed]bool{}
	look := func(p *layout.NamedPose, by *layout.Tool, what string, named diag.Place) {
		if p != nil && !seen[posed{p, p.Of(by)}] {
			seen[posed{p, p.Of(by)}] = true
			checkPose(c, p, by, what, named)
		}
	}
	for _, f := range c.Layout.AllFigures() {
		look(f.Clear, f.Tool, "clear", f.ClearPlace)
		look(f.Start, f.Tool, "start", f.StartPlace)
	}
}

// rulingAt is the figures that rule at a grid, those of the plan or the grid first.
func (c *Context) rulingAt(g *layout.Grid) []*layout.Figures {
	all := []*layout.Figures{c.Layout.Figures(nil, g)}
	for _, e := range c.Layout.Entries {
		if e.Own() == nil {
			continue
		}
		if by := c.Layout.Figures(e, g); !slices.Contains(all, by) && slices.ContainsFunc(e.Stops, func(s layout.Stop) bool { return s.Grid == g }) {
			all = append(all, by)
		}
	}
	return all
}

// slanting is how far the tool's axis at the slots of a grid leaves the approach direction,
// degrees.
func slanting(g *layout.Grid, by *layout.Figures) float64 {
	first := g.Slot(0)
	in, _ := g.Points(first)
	return in.RPY.Rot().Column(2).AngleTo(by.Away(g, first).Scale(-1))
}

// slants reports whether the tool's axis at the slots of a grid has a finding of its own.
func slants(g *layout.Grid, by *layout.Figures) bool { return slanting(g, by) > steepTilt+faint }

func checkSlots(c *Context, g *layout.Grid, by *layout.Figures) {
	off, at := slanting(g, by), g.Source.RPY.Place // where it is not written it points down
	way, hint := "way down", func(r *report) {
		in, _ := g.Points(g.Slot(0))
		r.hint("write %s: the tool then points straight down in the frame %q", pointing(in.RPY, geom.IdentityRot()), g.Frame.Name)
	}
	if by.Along() != "" {
		at, way, hint = by.AlongPlace, "approach direction", func(r *report) {
			r.note(g.Source.RPY.Place, "how the tool is turned stands here").
				hint("write \"along: tool\" for an approach along the tool's axis, or turn the tool")
		}
	}
	switch {
	case off >= 90-faint:
		hint(c.find("tool-points-away", at, "at the slots of %q the tool points away from them: its axis is %.1f degrees off the %s", g.Name, off, way))
	case off > steepTilt+faint:
		hint(c.find("tool-slanted", at, "at the slots of %q the tool's axis is %.1f degrees off the %s", g.Name, off, way))
	}
}

func checkPose(c *Context, p *layout.NamedPose, by *layout.Tool, what string, named diag.Place) {
	at := p.Base(by).RPY
	if off := at.FromDown(); off > 90+steepTilt+faint {
		found := c.find("tool-points-up", p.Place, "at the %s pose %q the tool points up, %.1f degrees off straight down", what, p.Name, off).
			note(named, "the plan names it here")
		if p.Joints != nil {
			found.hint("change the readings until the tool points down")
		} else {
			found.hint("write %s: the tool then points straight down", pointing(at, p.Frame.Base.R))
		}
	}
}

// pointing is the tool turned straight down with its yaw kept, as it is written in a
// frame that is turned so.
func pointing(now geom.RPY, frame geom.Rot) string {
	down := frame.T().Mul(geom.RPY{Roll: 180, Yaw: now.Yaw}.Rot()).RPY()
	figure := func(angle float64) string { return strconv.FormatFloat(math.Round(angle*1e4)/1e4+0, 'f', -1, 64) }
	return fmt.Sprintf("[%s, %s, %s]", figure(down.Roll), figure(down.Pitch), figure(down.Yaw))
}
