package rules

import (
	"gridferry/plan/decode"
	"gridferry/plan/unit"
)

// Tolerance is how far the rounding of a program's figures may take a pose off the plan's.
type Tolerance struct {
	Position    float64 // mm
	Orientation float64 // degrees
}

// usualTolerance is finer than most arms repeat a pose, and coarser than what 3 decimals
// of a millimetre or of an inch, and of a degree or of a radian, make of it (common
// practice, no source).
var usualTolerance = Tolerance{Position: 0.1, Orientation: 0.05}

func (t *Tolerance) key() decode.Key {
	return decode.May("tolerance", "How far rounding may take a pose off the plan's. A pose that is further off is an error: give the decimals that it names. "+
		"Frames, where points are written in them, and tool centre points count, too, whether the program writes them or somebody enters them at the controller.",
		decode.Object{What: "tolerance", Keys: []decode.Key{
			decode.May("position", "Of the tool centre point, in mm.", positive(&t.Position, unit.Length)).Default(usualTolerance.Position),
			decode.May("orientation", "Of the tool, in degrees.", positive(&t.Orientation, unit.Angle)).Default(usualTolerance.Orientation),
		}})
}

// positive keeps a quantity that is more than 0, without its place.
func positive(dst *float64, dim unit.Dimension) decode.Form {
	return decode.Plain(dst, func(v *decode.Value[float64]) decode.Form { return decode.Quantity(v, dim, decode.Positive) })
}
