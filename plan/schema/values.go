package schema

import (
	"regexp"
	"slices"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/unit"
)

// scalar is what a YAML reader makes of a text without quotes: the title 2024 is
// a number to it, and the name "on" of YAML 1.1 a truth value.
var scalar = []string{"string", "number", "boolean"}

const (
	longestName = decode.LongestName // here in characters, which are never more than the bytes
	longestText = decode.LongestText
)

// namePattern refuses the ASCII characters that no name holds. Letters of other
// scripts pass: the classes that tell them are not in every pattern language.
const namePattern = "^[^\\x00-/:-@\\[-`{-\\x7f][^\\x00-,./:-@\\[-^`{-\\x7f]*$"

// Text is words for people.
func Text() Schema { return Schema{{"type", scalar}, {"maxLength", longestText}} }

// Name is a name that refers to something named elsewhere.
func Name() Schema {
	return Schema{{"type", scalar}, {"maxLength", longestName}, {"pattern", namePattern}}
}

// Selection is slots, or a grid and slots.
func Selection() Schema { return Schema{{"type", scalar}} }

// Selections is one selection or a list of them.
func Selections() Schema {
	return Schema{{"type", append([]string{"array"}, scalar...)}, {"items", Selection()}}
}

// Matching is a text of a certain form.
func Matching(pattern string) Schema { return Text().With("pattern", pattern) }

// Format is the first line of a file.
func Format(text string) Schema { return Schema{{"const", text}} }

// truths are the words that YAML 1.1 takes for truth values (yaml.org/type/bool.html).
var truths = []string{"y", "n", "yes", "no", "on", "off", "true", "false"}

// OneOf is one of a few words. Where YAML 1.1 takes one of them for a truth
// value, that passes too, in a form that no editor offers to write.
func OneOf(words ...string) Schema {
	s := Schema{{"enum", words}}
	if !slices.ContainsFunc(words, func(w string) bool { return slices.Contains(truths, w) }) {
		return s
	}
	anyTruth := Schema{
		{"$comment", "a reader of YAML 1.1 takes some of the words for true or false"},
		{"not", Schema{{"type", []string{"string", "number", "null", "array", "object"}}}},
	}
	return Or(s, anyTruth)
}

// Level is the level of a signal.
func Level() Schema { return Shared("level", OneOf("on", "off")) }

// Whole is a whole number from lo to hi.
func Whole(lo, hi int) Schema {
	return Schema{{"type", "integer"}, {"minimum", lo}, {"maximum", hi}}
}

// digits is a number as package unit reads it.
const digits = `^\s*[-+]?(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?`

// Number is a number without a dimension.
func Number() Schema {
	return Shared("number", Schema{{"type", []string{"number", "string"}}, {"pattern", digits + `\s*$`}})
}

// Quantity is a number, in the dimension's base unit, or a text with a unit.
func Quantity(d unit.Dimension) Schema {
	var symbols []string
	for _, s := range unit.Symbols(d) {
		symbols = append(symbols, regexp.QuoteMeta(s))
	}
	return Shared(strings.ReplaceAll(d.String(), " ", "_"), Schema{
		{"$comment", "a number is in " + d.Base() + "; a text is a number and a unit"},
		{"type", []string{"number", "string"}},
		{"pattern", digits + `\s*(?:` + strings.Join(symbols, "|") + `)?\s*$`},
	})
}

// Positive bounds a number to more than 0; a text with a unit is not looked at.
func (s Schema) Positive() Schema { return s.With("exclusiveMinimum", 0) }

// NotNegative bounds a number to 0 or more.
func (s Schema) NotNegative() Schema { return s.With("minimum", 0) }

// Vector is [x, y, z], each a length.
func Vector() Schema { return Shared("vector", Times(3, Quantity(unit.Length))) }

// Size is [x, y, z] of something solid.
func Size() Schema { return Times(3, Quantity(unit.Length).Positive()) }

// Angles is [roll, pitch, yaw].
func Angles() Schema { return Shared("angles", Times(3, Quantity(unit.Angle))) }

// Quaternion is [w, x, y, z].
func Quaternion() Schema { return Shared("quaternion", Times(4, Number())) }

// Pair is a list of two values.
func Pair(of Schema) Schema { return Times(2, of) }
