// Package arm holds arms and gantries as chains of joints: from readings of the joints to
// the pose of the flange, and from a pose to every set of readings that gives it. It is pure:
// no files, no state, and the same result to the last bit on every processor.
//
// Readings are degrees of joints that turn and mm of joints that slide. The chain is written
// as a product of exponentials: each joint is its axis in base coordinates, with all joints at
// reading 0 (Lynch & Park, Modern Robotics, ch. 4; from memory).
package arm

import (
	"fmt"

	"gridferry/gen/geom"
)

// MaxJoints is the most joints that an arm may have: six and a rail, or seven of a kind.
const MaxJoints = 7

// Joint is one axis with all joints at reading 0, in base coordinates.
type Joint struct {
	Name   string
	Slides bool     // along the axis, in mm; else it turns about it, in degrees
	Axis   geom.Vec // a unit vector: a positive reading turns counter-clockwise about it, or slides along it
	Point  geom.Vec // a point that the axis goes through, mm; nothing to a joint that slides
	Lo, Hi float64  // the range of its readings: degrees or mm
}

// Readings has a value for each joint, in their order; the rest is 0.
type Readings [MaxJoints]float64

// Arm is a chain of joints from the base to the flange.
type Arm struct {
	Joints []Joint
	Flange geom.Pose // in the base, with all joints at reading 0

	solver   solver
	factored factored // or nil
	length   float64  // a measure of the arm in mm, by which turns and ways are weighed against each other; at least 1
}

// solver gives all readings of one class of arms.
type solver interface {
	// class says in words what the arm is.
	class() string
	// solve adds every set of readings that gives a pose. They may lie outside of the ranges
	// and a whole turn off; polishing, proving and sorting come after it. Where joints are free
	// it takes the values nearest to near. It gets and gives the collection by value, so that it stays off the heap.
	solve(flange geom.Pose, near Readings, found solutions) solutions
}

// New returns an arm for what its joints make it, or an error that says why no solution could be
// found for such an arm.
func New(joints []Joint, flange geom.Pose) (*Arm, error) {
	if len(joints) == 0 || len(joints) > MaxJoints {
		return nil, fmt.Errorf("found %d joints, wanted 1 to %d", len(joints), MaxJoints)
	}
	a := &Arm{Joints: joints, Flange: flange, length: 1}
	for i := range joints {
		if !joints[i].Slides {
			a.length = max(a.length, joints[i].Point.Dist(flange.T))
		}
	}
	var err error
	if a.solver, err = classify(a); err != nil {
		return nil, err
	}
	a.factored = newFactors(a)
	return a, nil
}

// Length is about how far the arm goes from its base, mm.
func (a *Arm) Length() float64 {
	length := a.length
	for i := range a.Joints {
		if j := &a.Joints[i]; j.Slides {
			length += j.Hi - j.Lo
		}
	}
	return length
}

// Searches says whether readings are found by a search, which takes many times as long as a closed form.
func (a *Arm) Searches() bool {
	_, is := a.solver.(*searched)
	return is
}

// Class says in words what the arm is, such as "six axes with a spherical wrist".
func (a *Arm) Class() string { return a.solver.class() }

// motion is what joint i does to all that is behind it, at a reading.
func (j *Joint) motion(reading float64) geom.Pose {
	if j.Slides {
		return geom.Pose{R: geom.IdentityRot(), T: j.Axis.Scale(reading)}
	}
	r := turn(j.Axis, toward(reading))
	return geom.Pose{R: r, T: j.Point.Sub(r.Apply(j.Point))}
}

// Pose returns the flange in the base at the readings of all joints.
func (a *Arm) Pose(r Readings) geom.Pose {
	p := a.Flange
	for i := len(a.Joints) - 1; i >= 0; i-- {
		p = a.Joints[i].motion(r[i]).Mul(p)
	}
	return p
}

// Links gives, for each joint, what has become of all that is fixed behind it: it takes a point
// from where it is with all joints at 0, in base coordinates, to where it is now.
func (a *Arm) Links(r Readings) (links [MaxJoints]geom.Pose) {
	p := geom.Identity
	for i := range a.Joints {
		p = p.Mul(a.Joints[i].motion(r[i]))
		links[i] = p
	}
	return links
}

// Twist is how the flange moves with a joint: the speed of its origin in mm, and the turn in
// radians about the base's axes; each for a radian of a joint that turns, a mm of one that slides.
type Twist struct{ Linear, Turn geom.Vec }

// Jacobian returns a twist for each joint, at the readings of all.
func (a *Arm) Jacobian(r Readings) [MaxJoints]Twist {
	_, columns := a.stance(&r)
	return columns
}

// stance returns where the flange is, and how it moves with each joint.
func (a *Arm) stance(r *Readings) (flange geom.Pose, columns [MaxJoints]Twist) {
	var points [MaxJoints]geom.Vec
	before := geom.Identity
	for i := range a.Joints {
		j := &a.Joints[i]
		axis := before.R.Apply(j.Axis)
		if j.Slides {
			columns[i].Linear = axis
			before.T = before.T.Add(axis.Scale(r[i]))
			continue
		}
		columns[i].Turn, points[i] = axis, before.Apply(j.Point)
		before.R = before.R.Mul(turn(j.Axis, toward(r[i])))
		before.T = points[i].Sub(before.R.Apply(j.Point)) // a point of the axis stays where it is
	}
	flange = before.Mul(a.Flange)
	for i := range a.Joints {
		if !a.Joints[i].Slides {
			columns[i].Linear = columns[i].Turn.Cross(flange.T.Sub(points[i]))
		}
	}
	return flange, columns
}
