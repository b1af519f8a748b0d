package decode

import (
	"regexp"
	"slices"
	"strings"

	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// This file says in JSON Schema what the readers of single values take.

// textSchema is a text; its length is in characters here, which are never more than
// the bytes.
func textSchema() schema.Schema { return schema.Scalar().With("maxLength", LongestText) }

// namePattern refuses the ASCII characters that no name holds. Letters of other
// scripts pass: the classes that name them are not in every pattern language.
const namePattern = "^[^\\x00-/:-@\\[-`{-\\x7f][^\\x00-,./:-@\\[-^`{-\\x7f]*$"

func nameSchema() schema.Schema {
	return schema.Scalar().With("maxLength", LongestName).With("pattern", namePattern)
}

// truths are the words that YAML 1.1 takes for truth values (yaml.org/type/bool.html).
var truths = []string{"y", "n", "yes", "no", "on", "off", "true", "false"}

// wordSchema is one of a few words. Where YAML 1.1 takes one of them for a truth
// value, that passes too, in a form that no editor offers to write.
func wordSchema(words ...string) schema.Schema {
	s := schema.Schema{}.With("enum", words)
	if !slices.ContainsFunc(words, func(w string) bool { return slices.Contains(truths, w) }) {
		return s
	}
	anyTruth := schema.Schema{}.With("$comment", "a reader of YAML 1.1 takes some of the words for true or false").
		With("not", schema.Of("string", "number", "null", "array", "object"))
	return schema.Or(s, anyTruth)
}

func levelSchema() schema.Schema { return schema.Shared("level", wordSchema("on", "off")) }

func wholeSchema(lo, hi int) schema.Schema {
	return schema.Of("integer").With("minimum", lo).With("maximum", hi)
}

// digits is a number as package unit reads it.
const digits = `^\s*[-+]?(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?`

func numberSchema() schema.Schema {
	return schema.Shared("number", schema.Of("number", "string").With("pattern", digits+`\s*$`))
}

// quantitySchema is a number, in the dimension's base unit, or a text with a unit.
func quantitySchema(d unit.Dimension) schema.Schema {
	var symbols []string
	for _, s := range unit.Symbols(d) {
		symbols = append(symbols, regexp.QuoteMeta(s))
	}
	number := schema.Of("number", "string").
		With("pattern", digits+`\s*(?:`+strings.Join(symbols, "|")+`)?\s*$`).
		With("$comment", "a number is in "+d.Base()+"; a text is a number and a unit")
	return schema.Shared(strings.ReplaceAll(d.String(), " ", "_"), number)
}

// on bounds a number; a text with a unit is not looked at.
func (b Bound) on(number schema.Schema) schema.Schema {
	if b.keyword == "" {
		return number
	}
	return number.With(b.keyword, 0)
}
