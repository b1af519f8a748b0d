package render

import (
	"gridferry/gen/arm"
	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// posture writes how the arm stands, if some block asks for that.
type posture struct {
	joints []move.Joint // nil where none does, or where the cell does not say what the arm is
	names  []blocks.Text
}

func newPosture(f *blocks.Blocks, joints []move.Joint) posture {
	var p posture
	for _, j := range joints {
		p.names = append(p.names, blocks.NewText(j.Name))
	}
	if f.UsesArm() {
		p.joints = joints
	}
	return p
}

// fill puts readings into a view. Its lists are used again.
func (p *posture) fill(view *blocks.Posture, figures *figures, r *arm.Readings, c arm.Configuration) {
	if p.joints == nil {
		return
	}
	view.Joints, view.Quarters = view.Joints[:0], view.Quarters[:0]
	if r == nil {
		return // the arm cannot get there: it was found, and nothing of this is used
	}
	for i, j := range p.joints {
		if j.Slides {
			view.Joints, view.Quarters = append(view.Joints, figures.length(r[i])), append(view.Quarters, 0)
		} else {
			view.Joints, view.Quarters = append(view.Joints, figures.component(r[i])), append(view.Quarters, arm.Quarter(r[i]))
		}
	}
	view.Configuration, view.Shoulder, view.Elbow, view.Wrist = c.String(), c.Word(0), c.Word(1), c.Word(2)
}
