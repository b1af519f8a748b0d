package measure

// lengthUnit is a unit that figures may have been written in.
type lengthUnit struct {
	times float64 // mm
	name  string  // as a sentence has it
	sign  string  // as it is written behind a figure
}

// units are those that people take for millimetres, or the other way round.
var units = []lengthUnit{{10, "centimetres", "cm"}, {25.4, "inches", "in"}, {100, "decimetres", ""}, {1000, "metres", "m"}}
