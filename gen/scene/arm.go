package scene

import (
	"slices"
	"strings"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

// Arm is the chain of an arm's joints, as gen/arm has it: with all joints at 0, in the base. What is fixed behind a joint
// goes with the product of the motions of all joints up to it.
type Arm struct {
	At     Vec     `json:"at"` // where it stands
	Joints []Joint `json:"joints"`
	Flange Pose    `json:"flange"`
	Links  []Link  `json:"links"`
	Rods   []Rod   `json:"rods"`
}

// Joint is one axis: readings are mm along it or degrees about it, from Lo to Hi.
type Joint struct {
	Name   string  `json:"name"`
	Slides bool    `json:"slides"`
	Unit   string  `json:"unit"`
	Axis   Axis    `json:"axis"`
	Point  Vec     `json:"point"`
	Lo     Reading `json:"lo"`
	Hi     Reading `json:"hi"`
	Speed  Reading `json:"speed,omitempty"` // mm/s or degrees/s; 0 where not known
}

// Link is a shape behind so many joints: 0 stands still.
type Link struct {
	Behind int `json:"behind"`
	Solid  int `json:"solid"`
}

// Rod is a line behind so many joints, for a link of which nobody says what it fills.
type Rod struct {
	Behind int `json:"behind"`
	From   Vec `json:"from"`
	To     Vec `json:"to"`
}

func (b *builder) arm() {
	a := b.job.Layout.Arm
	if a == nil {
		return
	}
	out := &Arm{At: vecOf(a.Base.T), Flange: poseOf(a.Flange), Links: []Link{}, Rods: rodsOf(a)}
	for i := range a.Joints {
		out.Joints = append(out.Joints, jointOf(a, i))
	}
	for behind, shapes := range a.Shapes {
		for i := range shapes {
			out.Links = append(out.Links, Link{behind, b.solids.link(&shapes[i])})
		}
	}
	b.scene.Arm = out
}

func jointOf(a *layout.Arm, i int) Joint {
	j := &a.Joints[i]
	return Joint{j.Name, j.Slides, strings.TrimSpace(j.Unit()), Axis(vecOf(j.Axis)), vecOf(j.Point), Reading(j.Lo), Reading(j.Hi), Reading(a.Speeds[i])}
}

// rodsOf goes from the flange back to where the arm stands. A cell may say any point of a joint's axis, far from the arm;
// so each rod begins at that point of the axis that is nearest to its other end.
func rodsOf(a *layout.Arm) []Rod {
	r := rods{arm: a, all: []Rod{}}
	end := a.Flange.T
	for i := len(a.Joints); i > 0; i-- {
		j := &a.Joints[i-1]
		if j.Slides {
			end = r.rail(i-1, j, end)
			continue
		}
		begin := j.Point.Add(j.Axis.Scale(end.Sub(j.Point).Dot(j.Axis)))
		r.add(i, begin, end)
		end = begin
	}
	r.add(0, a.Base.T, end)
	slices.Reverse(r.all)
	return r.all
}

// rods are those of an arm, from the flange on.
type rods struct {
	arm *layout.Arm
	all []Rod
}

func (r *rods) add(behind int, from, to geom.Vec) {
	if from.Dist(to) > 0 && len(r.arm.Shapes[behind]) == 0 {
		r.all = append(r.all, Rod{behind, vecOf(from), vecOf(to)})
	}
}

// rail is what a joint slides on, as long as its range. What carries it is at its upper end, or where its readings are least.
func (r *rods) rail(behind int, j *arm.Joint, at geom.Vec) geom.Vec {
	lo, hi := at.Add(j.Axis.Scale(j.Lo)), at.Add(j.Axis.Scale(j.Hi))
	r.add(behind, lo, hi)
	if hi.Z > lo.Z {
		return hi
	}
	return lo
}
