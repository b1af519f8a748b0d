package check

import (
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/solid"
)

// limb is something that the arm moves, or stands on: a link, a piece of the tool, or a part that hangs in it. It is
// all points within a radius of its core.
type limb struct {
	name   string
	core   solid.Solid // with all joints at 0, in the base
	radius float64
	ball   float64                // how far any point of it can be from the core's centre, mm
	behind int                    // so many joints
	far    [arm.MaxJoints]float64 // how far any point of it can be from the axis of a joint before it, mm
	part   bool                   // it hangs in the tool
}

// newLimb works out how far from each joint a limb can be: no farther than along the chain of all between.
func newLimb(a *layout.Arm, l limb) limb {
	reach := l.core.Reach()
	l.ball = reach.Norm() + l.radius
	long, at := l.ball, l.core.Centre
	for i := l.behind - 1; i >= 0; i-- {
		j := &a.Joints[i]
		if j.Slides {
			long += max(math.Abs(j.Lo), math.Abs(j.Hi))
			continue
		}
		long += j.Point.Dist(at)
		at = j.Point
		l.far[i] = long
	}
	return l
}

// linksOf is the limbs of an arm that are no tool, as far as the cell says what room they fill.
func linksOf(a *layout.Arm) (limbs []limb) {
	for behind, shapes := range a.Shapes {
		for i := range shapes {
			s := &shapes[i]
			limbs = append(limbs, newLimb(a, limb{name: a.LinkName(behind), core: s.Core(), behind: behind, radius: s.Radius}))
		}
	}
	return limbs
}

// carried is the limbs that are the tool's, with what hangs in it.
func (s *Scene) carried(a *layout.Arm, limbs []limb) []limb {
	tcp := a.Flange.Mul(s.carries.TCP)
	for k := range s.pieces() {
		b := s.body(k, &tcp, geom.Vec{})
		limbs = append(limbs, newLimb(a, limb{name: b.String(), core: b.Here, behind: len(a.Joints), part: b.Part}))
	}
	return limbs
}

// at is the core of a limb where the links are.
func (l *limb) at(links *[arm.MaxJoints]geom.Pose) solid.Solid {
	if l.behind == 0 {
		return l.core
	}
	return l.core.In(&links[l.behind-1])
}

// middle is the centre of its core there.
func (l *limb) middle(links *[arm.MaxJoints]geom.Pose) geom.Vec {
	if l.behind == 0 {
		return l.core.Centre
	}
	return links[l.behind-1].Apply(l.core.Centre)
}

// moved bounds how far any point of a limb goes while the joints behind the first few go that far, each by its own: radians or mm.
func (l *limb) moved(a *layout.Arm, off *arm.Readings, first int) (way float64) {
	for i := first; i < l.behind; i++ {
		if a.Joints[i].Slides {
			way += off[i]
		} else {
			way += float64(off[i] * l.far[i])
		}
	}
	return way
}
