package gen

import (
	"path"

	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// headOf is what a program's head and tables say about a run of a layout.
func headOf(l *layout.Layout, r *run, counts move.Counts) move.Job {
	head := move.Job{
		Title: r.title(l), Plan: path.Base(l.File), File: r.file(l), Notices: append(r.notices(l, counts.Kind[move.Travel] == 0), r.before(l)), Cell: l.Cell.Name.V, Place: l.Place, Version: Version,
		Acceleration: l.Cell.Machine.Acceleration.V, Jerk: l.Cell.Machine.Jerk.V, Speed: l.Cell.Machine.Speed.V, Turns: l.Cell.Machine.Rotation.Range.V,
		Counts: counts, Frames: framesOf(l), Tools: toolsOf(l), Joints: jointsOf(l),
	}
	if w := l.Figures(nil, nil).Start; w != nil {
		head.Start = w.Name
	}
	for i := range head.Frames {
		head.Frames[i].Used = counts.UsesFrame(head.Frames[i].Number)
	}
	for i := range head.Tools {
		t := &head.Tools[i]
		t.Used, t.Selected = counts.UsesTool(t.Number), counts.SelectsTool(t.Number)
	}
	return head
}

// framesOf is the table of all frames of the cell.
func framesOf(l *layout.Layout) []move.Frame {
	var frames []move.Frame
	for _, f := range l.Frames {
		frames = append(frames, move.Frame{Number: f.Number, Known: f.Known, Name: f.Name, Base: move.Point{Vec: f.Base.T, RPY: f.Base.R.RPY()}})
	}
	return frames
}

// jointsOf is the arm's joints; none where the cell does not say what it is.
func jointsOf(l *layout.Layout) []move.Joint {
	if l.Arm == nil {
		return nil
	}
	var joints []move.Joint
	for _, j := range l.Arm.Joints {
		joints = append(joints, move.Joint{Name: j.Name, Slides: j.Slides})
	}
	return joints
}

// toolsOf is the table of all tools of the cell.
func toolsOf(l *layout.Layout) []move.Tool {
	var tools []move.Tool
	for _, t := range l.Tools {
		tools = append(tools, move.Tool{
			Number: t.Number, Known: t.Known, Name: t.Name, TCP: move.Point{Vec: t.TCP.T, RPY: t.TCP.R.RPY()},
			Mass: t.Mass, CentreOfGravity: t.CentreOfGravity, Inertia: t.Inertia,
		})
	}
	return tools
}
