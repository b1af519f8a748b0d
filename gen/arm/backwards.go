package arm

import "gridferry/gen/geom"

// backwards is the arm as it looks from the flange: what was the flange is the base, and each joint moves the other way.
func (a *Arm) backwards() *Arm {
	home := a.Flange.Inverse()
	b := &Arm{Flange: home, length: a.length}
	for i := len(a.Joints) - 1; i >= 0; i-- {
		j := a.Joints[i]
		j.Axis, j.Point = home.R.Apply(j.Axis).Scale(-1), home.Apply(j.Point)
		b.Joints = append(b.Joints, j)
	}
	return b
}

// turnedRound solves an arm by what it is when it is looked at from the flange.
type turnedRound struct {
	inner *Arm // the arm backwards
	solver
}

func (t turnedRound) class() string { return t.solver.class() + ", looked at from the flange" }

func (t turnedRound) solve(flange geom.Pose, near Readings, found solutions) solutions {
	n := len(found.list)
	inner := solutions{arm: t.inner, flange: flange.Inverse(), list: found.list, start: n}
	inner = t.solver.solve(inner.flange, reversed(&near), inner)
	found.list = inner.list[:n]
	for _, one := range inner.list[n:] {
		found.add(reversed(&one.Readings), near) // never beyond the one that was read
	}
	return found
}

// reversed returns six readings in the other order.
func reversed(r *Readings) (back Readings) {
	for i := range 6 {
		back[5-i] = r[i]
	}
	return back
}
