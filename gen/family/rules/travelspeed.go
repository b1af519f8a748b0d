package rules

import "gridferry/plan/decode"

// TravelSpeed is who chooses how fast a travel goes.
type TravelSpeed uint8

// The choices; the zero value is what the family does not say.
const (
	_            TravelSpeed = iota
	ByProgram                // the travel's own speed is in the program
	ByController             // a rapid: the program cannot hold it back
)

func (rules *Rules) travelSpeed() decode.Key {
	return decode.May("travel_speed", "Who chooses how fast a travel goes: the `program`, or the `controller` where a travel is a rapid whose speed the program cannot hold. "+
		"In a prove-out ([RUNNING.md](../plan/RUNNING.md)) such travels are written as straight lines.",
		decode.Choice(&rules.TravelSpeed, []string{"program", "controller"}, []TravelSpeed{ByProgram, ByController})).
		Else("`program` if the block `travel` uses the field `.Speed`")
}
