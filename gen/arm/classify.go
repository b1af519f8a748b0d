package arm

import "errors"

// classify finds the solver for what an arm's joints are.
func classify(a *Arm) (solver, error) {
	for i := range a.Joints {
		if a.Joints[i].Slides || len(a.Joints) != 6 {
			return few(a)
		}
	}
	return general(a)
}

// few returns the solver of arms with sliding joints, or with other than six.
func few(a *Arm) (solver, error) {
	return nil, errors.New("there is no solver for such an arm yet")
}

// general returns the solver of any six joints that turn.
func general(a *Arm) (solver, error) {
	return nil, errors.New("there is no solver for such an arm yet")
}
