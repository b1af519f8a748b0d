package blocks

import "github.com/Masterminds/sprig/v3"

import (
	"gridferry/gen/family/rules"
)

// Only wording is taken from sprig, each function by name. Its arithmetic
// rounds and defaults in ways that are wrong for coordinates, and even its map
// for reproducible output holds random numbers and key makers.
var (
	sprigFunctions = sprig.TxtFuncMap()
	sprigReplace   = sprigFunctions["replace"].(func(string, string, string) string)
)

// wordingFunction is the table entry of one of sprig's functions.
func wordingFunction(name, use, doc, example, want string) Function {
	fn := sprigFunctions[name]
	return Function{
		Name: name, Use: use, Doc: doc, Example: example, Want: want,
		make: func(*rules.Rules) any { return fn },
	}
}
