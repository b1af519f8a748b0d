package arm

import (
	"fmt"
	"strconv"
	"strings"
)

// classify finds the solver for what an arm's joints are.
func classify(a *Arm) (solver, error) {
	for i := range a.Joints {
		if a.Joints[i].Slides || len(a.Joints) != 6 {
			return few(a)
		}
	}
	if err := a.spare(); err != nil {
		return nil, err
	}
	if s, is := closed(a); is {
		return s, nil
	}
	b := a.backwards()
	if s, is := closed(b); is {
		return turnedRound{b, s}, nil
	}
	return newSearched(a)
}

// closed returns the solver of six turning joints for which there is a closed form.
func closed(a *Arm) (solver, bool) {
	if _, is := sphericalWrist(a); is {
		return newSpherical(a), true
	}
	if threeParallel(a) {
		return newParallels(a), true
	}
	return nil, false
}

// alwaysSingular reports whether the Jacobian has lost its rank at each of some readings that have nothing to
// do with each other.
func (a *Arm) alwaysSingular() bool {
	var q equations
	for i := range 8 {
		r := scattered(i)
		a.equate(&r, a.Pose(r), &q)
		if _, n := q.lostDirections(); n == 0 {
			return false
		}
	}
	return true
}

// scattered returns readings, of each number others, that have nothing to do with each other.
func scattered(number int) (r Readings) {
	for k := range r {
		r[k] = turned(float64((number*MaxJoints+k+1)*(k+2)) * 222.492235949962) // the golden section of a turn
	}
	return r
}

// spare returns an error that names joints which can be moved against each other at every pose.
func (a *Arm) spare() error {
	if !a.alwaysSingular() {
		return nil
	}
	var q equations
	r := scattered(0)
	a.equate(&r, a.Flange, &q)
	lost, _ := q.lostDirections()
	var names []string
	for i, share := range lost[0][:len(a.Joints)] {
		if share > 1e-3 || share < -1e-3 {
			names = append(names, a.nameOf(i))
		}
	}
	return fmt.Errorf("the joints %s can be moved against each other at every pose while the flange stays, so that there is no end of solutions: leave one out", strings.Join(names, " and "))
}

// nameOf is what a message calls a joint.
func (a *Arm) nameOf(i int) string {
	if a.Joints[i].Name == "" {
		return strconv.Itoa(i + 1)
	}
	return strconv.Quote(a.Joints[i].Name)
}
