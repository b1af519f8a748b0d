package arm

import (
	"errors"
	"math"

	"gridferry/gen/geom"
)

// embedded solves four or five joints as six, of which some are made up and have to read 0.
type embedded struct {
	arm    *Arm
	inner  *Arm
	before int // made-up joints before the first; the others are behind the last
}

// embed returns the solver of four or five joints that turn about more than three directions, or an error that says
// that there is none. A solution in closed form goes before a search.
func embed(a *Arm) (solver, error) {
	var found solver
	for before := range 6 - len(a.Joints) + 1 {
		inner, ok := madeUp(a, before)
		if !ok {
			continue
		}
		if _, slow := inner.solver.(*searched); !slow {
			return embedded{a, inner, before}, nil
		}
		if found == nil {
			found = embedded{a, inner, before}
		}
	}
	if found == nil {
		return nil, errors.New("joints that turn about more than three directions, some of them sliding, are solved only as six whose first or last three axes turn and meet in a point")
	}
	return found, nil
}

// madeUp adds joints to an arm: so many before the first, and the rest to six behind the last.
func madeUp(a *Arm, before int) (*Arm, bool) {
	if len(a.Joints) > 5 || len(a.Joints) < 4 {
		return nil, false
	}
	joints := append([]Joint(nil), a.Joints...)
	for range before {
		first := madeUpNext(joints[0], joints[1])
		joints = append([]Joint{first}, joints...)
	}
	for len(joints) < 6 {
		joints = append(joints, madeUpNext(joints[len(joints)-1], joints[len(joints)-2]))
	}
	inner, err := New(joints, a.Flange)
	return inner, err == nil
}

// madeUpNext returns a joint beside the last one, so that it makes a spherical wrist with it and the one before where
// that can be. It is not square to the last: at a pose where the three axes lie in a plane in a wrist of square axes, what the made-up joint
// reads could not be told.
func madeUpNext(last, before Joint) Joint {
	point := last.Point
	if !last.Slides && !before.Slides {
		if p, ok := twoMeet(&last, &before); ok {
			point = p
		}
	}
	side := sideOf(last.Axis)
	sin, cos := geom.SinCos(57)
	axis := last.Axis.Scale(cos).Add(side.Scale(sin))
	return Joint{Axis: axis, Point: point, Lo: -180, Hi: 180}
}

func (s embedded) class() string {
	return count(len(s.arm.Joints), "axis", "axes") + " as part of " + s.inner.Class()
}

func (s embedded) solve(flange geom.Pose, near Readings, found solutions) solutions {
	var shifted Readings
	copy(shifted[s.before:], near[:len(s.arm.Joints)])
	start := len(found.list)
	all := s.inner.solver.solve(flange, shifted, solutions{arm: s.inner, flange: flange, list: found.list, start: start})
	var g guesses
	for i := start; i < len(all.list); i++ {
		if r, ok := s.without(&all.list[i]); ok {
			g.add(r)
		}
	}
	found.list = all.list[:start]
	for i := range g.n {
		found.add(g.list[i], near)
	}
	return found
}

// without returns the readings of the joints that are there, and false where others do not read about 0. At a singular pose of
// the six they may have been moved away from that; polishing tells for certain.
func (s embedded) without(one *Solution) (r Readings, ok bool) {
	about0 := 0.5 // degrees
	if one.Singular {
		about0 = 20
	}
	n := len(s.arm.Joints)
	for i, reading := range one.Readings[:6] {
		if made := i < s.before || i >= s.before+n; made && math.Abs(reading) > about0 {
			return r, false
		}
	}
	copy(r[:n], one.Readings[s.before:s.before+n])
	return r, true
}

// starts returns what the joints that are there read in all solutions of the six, whatever the made-up ones read, and
// readings all over, since the six may reach too little.
func (s embedded) starts(flange geom.Pose, near Readings) (out guesses) {
	var shifted, r Readings
	n := len(s.arm.Joints)
	copy(shifted[s.before:], near[:n])
	for _, one := range s.inner.Solve(flange, shifted, nil) {
		copy(r[:n], one.Readings[s.before:s.before+n])
		out.add(r)
	}
	for i := out.n; i < len(out.list)-1; i++ { // one is left for near
		out.add(scattered(i))
	}
	return out
}
