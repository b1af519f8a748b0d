package rules

import (
	"gridferry/plan/decode"
	"gridferry/plan/unit"
)

// Limits is what a program holds the machine to where the cell does not say; 0 for nothing.
type Limits struct {
	Acceleration float64 // mm/s²
	Jerk         float64 // mm/s³
}

func (l *Limits) key() decode.Key {
	return decode.May("limits", "What a program holds the machine to where the cell does not say. `gridferry time --family` reckons with it.",
		decode.Object{What: "limits", Keys: []decode.Key{
			decode.May("acceleration", "In mm/s²; the field `.Acceleration` then.", positive(&l.Acceleration, unit.Acceleration)),
			decode.May("jerk", "In mm/s³; the field `.Jerk` then.", positive(&l.Jerk, unit.Jerk)),
		}})
}

// Or is what the cell says, or else these limits.
func (l Limits) Or(acceleration, jerk float64) Limits {
	if acceleration > 0 {
		l.Acceleration = acceleration
	}
	if jerk > 0 {
		l.Jerk = jerk
	}
	return l
}
