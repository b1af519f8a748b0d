package unit

// Dimension is the kind of a quantity. The zero value is invalid.
type Dimension uint8

// The dimensions, with the base unit that Parse gives.
const (
	_                   Dimension = iota
	Length                        // mm
	Angle                         // deg
	Time                          // s
	Mass                          // kg
	Speed                         // mm/s
	Acceleration                  // mm/s²
	Jerk                          // mm/s³
	AngularSpeed                  // deg/s
	AngularAcceleration           // deg/s²
	Moment                        // N·m
	Inertia                       // kg·m²

	numDimensions = iota
)

type dimension struct{ name, base string }

var dimensions [numDimensions]dimension = [...]dimension{
	Length:              {"length", "mm"},
	Angle:               {"angle", "deg"},
	Time:                {"time", "s"},
	Mass:                {"mass", "kg"},
	Speed:               {"speed", "mm/s"},
	Acceleration:        {"acceleration", "mm/s²"},
	Jerk:                {"jerk", "mm/s³"},
	AngularSpeed:        {"angular speed", "deg/s"},
	AngularAcceleration: {"angular acceleration", "deg/s²"},
	Moment:              {"moment", "N·m"},
	Inertia:             {"moment of inertia", "kg·m²"},
}

// String gives the dimension's name, such as "length".
func (d Dimension) String() string {
	if d == 0 || int(d) >= len(dimensions) {
		return "invalid dimension"
	}
	return dimensions[d].name
}

// Base gives the symbol of the unit in which quantities of the dimension are kept, such as "mm".
func (d Dimension) Base() string {
	if int(d) >= len(dimensions) {
		return ""
	}
	return dimensions[d].base
}
