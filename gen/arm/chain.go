package arm

import (
	"math"

	"gridferry/gen/geom"
)

// straight is how far the axes of two joints may be off parallel, as a sine, and still be meant so: files say them with some
// five digits.
const straight = 1e-5

// parallelAxes says whether two axes count as parallel, in whichever direction.
func parallelAxes(a, b geom.Vec) bool { return a.Cross(b).Norm() < straight }

// chain is an arm by joints that turn, and the ways between them.
type chain struct {
	turning []int     // the joints that turn
	hand    []float64 // 1, or -1 for one that turns against its group
	groupOf []int
	groups  []group
	sliding []int     // the joints that slide
	steps   []stretch // from the base to the point of the first that turns, from there to the next, at last to the end
}

// chainOf takes an arm apart, up to a point behind its last joint, with all joints at 0.
func chainOf(joints []Joint, end geom.Vec) *chain {
	c := &chain{}
	step := stretch{at: geom.Vec{}}
	var from geom.Vec
	for i := range joints {
		j := &joints[i]
		if j.Slides {
			if len(c.sliding) < mostSlides {
				step.along[len(c.sliding)] = j.Axis
			}
			c.sliding = append(c.sliding, i)
			continue
		}
		step.at = j.Point.Sub(from)
		c.steps = append(c.steps, step)
		step, from = stretch{}, j.Point
		c.join(i, j.Axis)
	}
	step.at = end.Sub(from)
	c.steps = append(c.steps, step)
	return c
}

// join adds a joint that turns to the last group, or begins a group with it.
func (c *chain) join(i int, axis geom.Vec) {
	n := len(c.turning)
	c.turning = append(c.turning, i)
	g := len(c.groups) - 1
	if g < 0 || !parallelAxes(c.groups[g].axis, axis) {
		c.groups = append(c.groups, group{axis: axis, first: n})
		g++
	}
	c.groups[g].last = n
	c.groupOf = append(c.groupOf, g)
	c.hand = append(c.hand, math.Copysign(1, c.groups[g].axis.Dot(axis)))
}

// straighten returns the joints with axes that are meant to be parallel to the last one that turns made so.
func straighten(joints []Joint) []Joint {
	out := append([]Joint(nil), joints...)
	last := geom.Vec{}
	for i := range out {
		j := &out[i]
		switch {
		case j.Slides:
		case last != geom.Vec{} && parallelAxes(last, j.Axis):
			j.Axis = last.Scale(math.Copysign(1, last.Dot(j.Axis)))
		default:
			last = j.Axis
		}
	}
	return out
}

// sum is the angle of a group up to one of its joints, counted among those that turn.
func (c *chain) sum(r *Readings, upTo int) (angle float64) {
	for t := c.groups[c.groupOf[upTo]].first; t <= upTo; t++ {
		angle += float64(c.hand[t] * r[c.turning[t]])
	}
	return angle
}

// ends says whether a joint is the last of its group.
func (c *chain) ends(t int) bool { return c.groups[c.groupOf[t]].last == t }

// nearSlides are the readings of joints that slide.
func (c *chain) nearSlides(r *Readings) (slides [mostSlides]float64) {
	for i, joint := range c.sliding {
		slides[i] = r[joint]
	}
	return slides
}
