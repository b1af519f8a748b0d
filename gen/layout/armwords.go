package layout

import (
	"fmt"

	"gridferry/plan"
)

// jointWords is how a joint is spoken of, and how the cell would say that it is otherwise.
type jointWords struct {
	name     string
	reversed string // how it is turned round
	figure   func(v float64) string
	shifted  func(zero float64) string // how it is given another zero
}

func (a *Arm) cellWords(i int) jointWords {
	j := &a.Joints[i]
	w := jointWords{name: fmt.Sprintf("%q", j.Name), figure: func(v float64) string { return fmt.Sprintf("%.4g°", v) }}
	if j.Slides {
		w.figure = func(v float64) string { return fmt.Sprintf("%.4g mm", v) }
	}
	switch written := a.source.Joints[i]; {
	case a.source.DH.IsSet():
		w.reversed = a.reversedRow(i)
		key := "theta"
		if j.Slides {
			key = "d"
		}
		w.shifted = func(zero float64) string { return fmt.Sprintf("; add %.4g to %q of its row", zero, key) }
	case a.source.Chain != nil:
		axis := a.source.Chain.Moving()[i].Axis
		w.reversed = fmt.Sprintf("write its axis as \"%.6g %.6g %.6g\" in the file", -axis[0]+0, -axis[1]+0, -axis[2]+0)
		w.shifted = func(float64) string { return "; move its <origin> in the file there" }
	default:
		axis, key := written.Axis.V, "axis"
		if j.Slides {
			key = "slides"
		}
		w.reversed = fmt.Sprintf("write its %q as [%.6g, %.6g, %.6g]", key, -axis[0]+0, -axis[1]+0, -axis[2]+0)
		w.shifted = func(float64) string { return "; write what is behind it as it stands then" }
	}
	return w
}

// reversedRow is how a Denavit-Hartenberg row gets the other sign: half a turn about X on both sides
// of its joint, which turns its theta and d round.
func (a *Arm) reversedRow(i int) string {
	const own = "add 180 to \"alpha\" of its row, change the signs of its \"theta\" and \"d\", and "
	beside := "add 180 to \"alpha\" of the row before it, too"
	modified := a.source.DH.V == plan.ModifiedDH
	switch {
	case modified && i == len(a.Joints)-1:
		beside = "turn the flange by [180, 0, 0]"
	case modified:
		beside = "add 180 to \"alpha\" of the row behind it, too"
	case i == 0:
		beside = "turn the arm in the base by [180, 0, 0] about the first row's axes"
	}
	return own + beside
}
