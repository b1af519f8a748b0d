package blocks

import (
	"strings"

	"gridferry/gen/family/rules"
)

// wordingFunction is the table entry of a function that only words something. Name, arguments and result are those of the
// function of that name in the library sprig, to which a test holds it. The library itself would add a quarter to what every
// command needs to start, for eleven lines; its arithmetic rounds and defaults in ways that are wrong for coordinates.
func wordingFunction(name, use, doc, example, want string, fn any) Function {
	return Function{
		Name: name, Use: use, Doc: doc, Example: example, Want: want,
		make: func(*rules.Rules) any { return fn },
	}
}

func trimPrefix(start, word string) string { return strings.TrimPrefix(word, start) }

func trimSuffix(end, word string) string { return strings.TrimSuffix(word, end) }

func contains(part, word string) bool { return strings.Contains(word, part) }

func hasPrefix(start, word string) bool { return strings.HasPrefix(word, start) }

func hasSuffix(end, word string) bool { return strings.HasSuffix(word, end) }

func ternary(yes, no any, condition bool) any {
	if condition {
		return yes
	}
	return no
}

func plural(one, many string, count int) string {
	if count == 1 {
		return one
	}
	return many
}
