package arm

import "errors"

// classify finds the solver for what an arm's joints are.
func classify(a *Arm) (solver, error) {
	for i := range a.Joints {
		if a.Joints[i].Slides || len(a.Joints) != 6 {
			return few(a)
		}
	}
	if a.alwaysSingular() {
		return nil, errors.New("wherever these six axes are turned to, there is a direction in which the flange cannot move")
	}
	if _, is := sphericalWrist(a); is {
		return newSpherical(a), nil
	}
	if threeParallel(a) {
		return newParallels(a), nil
	}
	return newSearched(a)
}

// alwaysSingular reports whether the Jacobian has lost its rank at each of some readings that have nothing to
// do with each other.
func (a *Arm) alwaysSingular() bool {
	var q equations
	for i := range 8 {
		var r Readings
		for k := range r {
			r[k] = float64((i*MaxJoints+k+1)*(k+2)) * 222.492235949962 // the golden section of a turn
		}
		a.equate(&r, a.Pose(r), &q)
		if _, least := q.eliminate(); least > 1e-6 {
			return false
		}
	}
	return true
}

// few returns the solver of arms with sliding joints, or with other than six.
func few(a *Arm) (solver, error) {
	return nil, errors.New("there is no solver for such an arm yet")
}
