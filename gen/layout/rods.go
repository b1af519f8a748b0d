package layout

import (
	"slices"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
)

// Rod is a line for a link behind so many joints, in the base with all joints at 0.
type Rod struct {
	Behind   int
	From, To geom.Vec
	Rail     bool // the next joint slides on it, as far as its range goes; From is where it is held
}

// Rods are lines from where the arm stands to its flange, whatever is known of the room that its links fill, and where on
// them each joint is, behind itself. A cell may say any point of a joint's axis, far from the arm; so each rod begins at
// that point of the axis that is nearest to its other end.
func (a *Arm) Rods() (rods []Rod, joints [arm.MaxJoints]geom.Vec) {
	add := func(behind int, from, to geom.Vec, rail bool) {
		if from.Dist(to) > 0 {
			rods = append(rods, Rod{behind, from, to, rail})
		}
	}
	end := a.Flange.T
	for i := len(a.Joints) - 1; i >= 0; i-- {
		j := &a.Joints[i]
		joints[i] = end
		if j.Slides {
			held, far := railOf(j, end)
			add(i, held, far, true)
			end = held
			continue
		}
		joints[i] = j.Point.Add(j.Axis.Scale(end.Sub(j.Point).Dot(j.Axis)))
		add(i+1, joints[i], end, false)
		end = joints[i]
	}
	add(0, a.Base.T, end, false)
	slices.Reverse(rods)
	return rods, joints
}

// railOf is the ends of what a joint slides on. It is held at its upper end, or where its readings are least.
func railOf(j *arm.Joint, at geom.Vec) (held, far geom.Vec) {
	lo, hi := at.Add(j.Axis.Scale(j.Lo)), at.Add(j.Axis.Scale(j.Hi))
	if hi.Z > lo.Z {
		return hi, lo
	}
	return lo, hi
}
