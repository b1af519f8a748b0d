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

// What keys of family.yaml ask of each other, and those of an entry of "reads".
var (
	togetherRules = []schema.Rule{
		func(s schema.Schema) schema.Schema {
			return s.When(whereIs("rotation", Vertical.String()), whereIs("coordinates", "base"))
		},
		schema.With("dependentSchemas", schema.Schema{}.With("most_lines", whereIs("writes", "moves"))),
	}
	readingRules = []schema.Rule{
		schema.OneOf("line", "row"),
		schema.With("dependentSchemas", schema.Schema{}.With("when", whereIs("is", move.Select.String()))),
	}
)

// whereIs holds where a key says a certain word, or is not written.
func whereIs(key, word string) schema.Schema {
	return schema.Schema{}.With("properties", schema.Schema{}.With(key, schema.Const(word)))
}
