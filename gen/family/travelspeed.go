package family

import (
	"regexp"
	"slices"

	"gridferry/plan/decode"
)

// TravelSpeed is who chooses how fast a travel goes.
type TravelSpeed uint8

// The choices; the zero value is what the family does not say.
const (
	_            TravelSpeed = iota
	ByProgram                // the travel's own speed is in the program
	ByController             // a rapid: the program cannot hold it back
)

func (rules *Rules) travelSpeed() decode.Form {
	return decode.Choice(&rules.TravelSpeed, []string{"program", "controller"}, []TravelSpeed{ByProgram, ByController})
}

// ChoosesTravelSpeed tells whether the controller chooses how fast travels go:
// because family.yaml says so, or because the block "travel" writes no speed.
func (f *Family) ChoosesTravelSpeed() bool {
	if f.TravelSpeed != 0 {
		return f.TravelSpeed == ByController
	}
	return !f.asks("travel", speedField, nil)
}

var (
	speedField = regexp.MustCompile(`\.Speed\b`)
	helperCall = regexp.MustCompile(`\{\{template "([^"]*)"`)
)

// asks tells whether a block or one of its helpers asks for a field. Helpers do
// not call each other in circles: the lint refuses that.
func (f *Family) asks(block string, field *regexp.Regexp, callers []string) bool {
	def, defined := f.defs[block]
	if !defined || slices.Contains(callers, block) {
		return false
	}
	text := def.tree.Root.String()
	if field.MatchString(text) {
		return true
	}
	for _, call := range helperCall.FindAllStringSubmatch(text, -1) {
		if f.asks(call[1], field, append(callers, block)) {
			return true
		}
	}
	return false
}
