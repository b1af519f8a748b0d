package family

import (
	"gridferry/gen/move"
	"gridferry/plan/decode"
	"gridferry/plan/schema"
)

// FileForm is family.yaml by its tables of keys. What it reads is kept nowhere.
func FileForm() decode.Form {
	rules := defaultRules()
	return rules.form()
}

// togetherRules is what keys of family.yaml ask of each other.
func togetherRules(s schema.Schema) schema.Schema {
	return s.When(whereIs("rotation", Vertical.String()), whereIs("coordinates", "base")).
		With("dependentSchemas", schema.Schema{}.With("most_lines", whereIs("writes", "moves")))
}

// readingRules is the same of an entry of "reads".
func readingRules(s schema.Schema) schema.Schema {
	return s.OneWay([]string{"line"}, []string{"row"}).
		With("dependentSchemas", schema.Schema{}.With("when", whereIs("is", move.Select.String())))
}

// whereIs holds where a key says a certain word, or is not written.
func whereIs(key, word string) schema.Schema {
	return schema.Schema{}.With("properties", schema.Schema{}.With(key, schema.Const(word)))
}
