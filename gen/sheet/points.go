package sheet

import (
	"fmt"
	"slices"
	"strconv"

	"gridferry/gen/fit"
	"gridferry/gen/layout"
	"gridferry/gen/measure"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/wording"
)

// touched is what was measured, point by point, with what is left of it.
type touched struct {
	Title string
	Kind  string // frame, tool or grid
	In    string // whose coordinates the points were read in
	Rows  []pointRow
	Worth []string
	More  string
	typed *pointSet
}

// pointRow is one point: where it should be, where it was touched, how far that
// is from the answer.
type pointRow struct{ Name, Nominal, Measured, Off string }

func (t *touched) keep() {
	if len(t.Rows) > mostPoints {
		t.More = "… " + wording.Count(len(t.Rows)-mostPoints, "point") + " more"
		t.Rows, t.typed.Points = t.Rows[:mostPoints], t.typed.Points[:mostPoints]
	}
}

// touched is everything that was measured for this job.
func (j *Job) touched(s *survey) []touched {
	var all []touched
	used := map[*layout.Frame]bool{}
	for _, f := range j.Layout.Frames {
		for at := f; at != nil && s.usesFrame(f); at = at.Parent {
			used[at] = true
		}
	}
	for _, f := range j.Layout.Frames {
		if f.Fit != nil && used[f] {
			all = append(all, ofFrame(f))
		}
	}
	for _, t := range j.Layout.UsedTools() {
		if t.Fit != nil {
			all = append(all, ofTool(t))
		}
	}
	for _, g := range j.Layout.Grids {
		if g.Fit != nil && s.grids[g.Name] {
			all = append(all, ofGrid(g))
		}
	}
	for i := range all {
		all[i].keep()
	}
	return all
}

// plain is a point's name without the quotes that findings give it.
func plain(label string) string {
	if name, err := strconv.Unquote(label); err == nil {
		return name
	}
	return label
}

func ofFrame(f *layout.Frame) touched {
	t := touched{Title: "Frame " + f.Name, Kind: "frame", In: f.Parent.Name, typed: typedFrame(f.Fit, f.Parent.Name)}
	pose := f.Fit.Pose()
	if three := f.Fit.Three; three != nil {
		for _, p := range f.Fit.Points {
			t.Rows = append(t.Rows, pointRow{plain(p.Label), place(pose.Inverse().Apply(p.At)), place(p.At), "none"})
		}
		t.Worth = []string{
			"Three points always fit, so they have no residual: only touching again shows whether they are right.",
			fmt.Sprintf("“along_x” lies %s mm from the origin, “toward_y” %s mm, %s° apart.", fixed(three.AlongX, 2), fixed(three.TowardY, 2), fixed(three.Angle, 2)),
		}
	} else {
		best := f.Fit.Best
		for i, p := range f.Fit.Points {
			t.Rows = append(t.Rows, pointRow{plain(p.Label), place(p.Nominal), place(p.At), fixed(best.Each[i].Length, 3)})
		}
		t.Worth = []string{residuals(best.Residuals, plain(f.Fit.Points[best.Worst].Label), f.Fit.Tolerance)}
	}
	t.Worth = append(t.Worth, angle(f.Fit))
	return t
}

func residuals(r fit.Residuals, worst string, tolerance float64) string {
	return fmt.Sprintf("Largest residual %s mm at %s, root mean square %s mm; tolerance %s.", fixed(r.Largest, 3), worst, fixed(r.RMS, 3), mm(tolerance))
}

func angle(f *measure.Frame) string {
	text := fmt.Sprintf("With touches good to %s the frame may be turned by %s°", mm(f.Touch), fixed(f.Degrees(), 3))
	if f.Far != nil {
		text += fmt.Sprintf(", which moves its farthest slot, %s %s, by %s mm", f.Far.Grid, f.Far.Slot, fixed(f.Far.Off, 2))
	}
	return text + "."
}

func ofTool(tool *layout.Tool) touched {
	f := tool.Fit
	t := touched{Title: "Tool centre point of " + tool.Name, Kind: "tool", In: "base"}
	for i, p := range f.Poses {
		t.Rows = append(t.Rows, pointRow{fmt.Sprintf("pose %d", i+1), place(f.Post), place(p.Apply(f.Tip)), fixed(f.Each[i].Length, 3)})
	}
	t.typed = typedTool(f, tool.Name, t.Rows)
	t.Worth = []string{
		fmt.Sprintf("All poses hold the tip on one spot at %s in the base.", place(f.Post)),
		residuals(f.Residuals, fmt.Sprintf("pose %d", f.Worst+1), f.Tolerance),
		fmt.Sprintf("The tip is known to %s mm along %s of the flange, its weakest direction.", fixed(f.Uncertainty(), 2), fit.Direction(f.Weakest)),
	}
	return t
}

func ofGrid(g *layout.Grid) touched {
	f := g.Fit
	in := g.Frame.Name
	if f.InBase {
		in = plan.BaseFrame
	}
	t := touched{Title: "Corners of grid " + g.Name, Kind: "grid", In: in, typed: typedCorners(f, in)}
	s, off := &f.Surface, "none"
	if len(f.Corners) == 4 {
		off = fixed(s.Miss.Norm(), 3)
	}
	for i, c := range f.Corners {
		t.Rows = append(t.Rows, pointRow{f.Labels[i], "where the other three put it", place(c.At), off})
	}
	t.Worth = []string{fmt.Sprintf("Pitch %s and %s mm from column to column, %s and %s mm from row to row; %s° off square.",
		fixed(s.ColPitch[0], 3), fixed(s.ColPitch[1], 3), fixed(s.RowPitch[0], 3), fixed(s.RowPitch[1], 3), fixed(s.Skew, 3))}
	if len(f.Corners) == 4 {
		t.Worth = append(t.Worth, fmt.Sprintf("The fourth corner misses the other three by %s mm, %s mm of it out of the plane; tolerance %s.",
			fixed(s.Miss.Norm(), 3), fixed(s.Warp, 3), mm(f.Tolerance)))
	}
	if f.Nominal != [2]float64{} {
		t.Worth = append(t.Worth, fmt.Sprintf("The nominal pitch is %s and %s.", mm(f.Nominal[0]), mm(f.Nominal[1])))
	}
	return t
}

// spots are the slots of a grid to drive to by hand, with room for what the
// controller shows there.
type spots struct {
	Grid, Frame string
	Rows        []spotRow
	typed       *pointSet
}

// spotRow is where the tool centre point has to be, in frame and base.
type spotRow struct{ Slot, In, Base, Turn string }

// spots are the corners of every grid that the job works on.
func (j *Job) spots(s *survey) []spots {
	var all []spots
	for _, g := range j.Layout.Grids {
		if !s.grids[g.Name] || len(all) == mostGrids {
			continue
		}
		one := spots{Grid: g.Name, Frame: g.Frame.Name, typed: typedSlots(g)}
		for _, at := range corners(g) {
			in, base := g.Points(at)
			label := g.Label(at)
			if !g.Has(at) {
				label += " (not there)"
			}
			one.Rows = append(one.Rows, spotRow{label, place(in.Vec), place(base.Vec), turn(base.RPY)})
		}
		all = append(all, one)
	}
	return all
}

// corners are those of a grid's lowest layer, and one slot of its highest.
func corners(g *layout.Grid) []slot.Slot {
	var out []slot.Slot
	of := g.Pattern.Corners()
	for _, s := range append(of[:], slot.Slot{Layer: int32(g.Layers - 1)}) {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}
