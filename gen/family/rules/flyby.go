package rules

import "gridferry/plan/decode"

// FlyBy is what becomes of the plan's fly-by points.
type FlyBy uint8

// The choices; the zero value is what the family does not say.
const (
	Unsaid  FlyBy = iota
	Passed        // without a stop
	Between       // the same, but only where the next move is a motion, too
	Stops         // the arm comes to rest at every point
)

func (rules *Rules) flyBy() decode.Key {
	return decode.May("fly_by", "What becomes of the plan's fly-by points in this program: they are `passed` without a stop, or so only `between-motions`, where the next move is a motion, too, or the arm `stops` at every point. "+
		"`gridferry time --family` and the job sheet reckon with it.",
		decode.Choice(&rules.FlyBy, []string{"passed", "between-motions", "stops"}, []FlyBy{Passed, Between, Stops})).
		Else("`passed` if the block `travel` or `straight` uses the field `.FlyBy`")
}

// Rounding gives values as they come out of a program, in the internal unit; machine is the
// fastest speed of the machine, 0 where that is not known.
func (rules *Rules) Rounding(machine float64) func(q Quantity, v float64) float64 {
	return func(q Quantity, v float64) float64 {
		if written := rules.Written(q, v, machine); written > 0 {
			return written
		}
		return v
	}
}
