package schema

import "slices"

// Object is a mapping with these keys, some of which have to be there, and no others.
func Object(properties Schema, required []string) Schema {
	s := Schema{{"type", "object"}, {"properties", properties}}
	if required != nil {
		s = append(s, Keyword{"required", required})
	}
	return append(s, Keyword{"additionalProperties", false})
}

// Required is the bare demand that some keys are there.
func Required(keys ...string) Schema { return Schema{{"required", keys}} }

// Above is the condition that a whole number is written which is more than n.
func Above(n int, key string) Schema {
	more := Schema{{"type", "integer"}, {"exclusiveMinimum", n}}
	return Required(key).With("properties", Schema{{key, more}})
}

// When makes a demand under a condition.
func (s Schema) When(condition, demand Schema) Schema {
	return s.With("if", condition).With("then", demand)
}

// Texts is a mapping of any texts, each with what belongs to it.
func Texts(of Schema) Schema {
	return Schema{{"type", "object"}, {"additionalProperties", of}}
}

// Each is a list.
func Each(of Schema) Schema { return Schema{{"type", "array"}, {"items", of}} }

// Times is a list of exactly n entries.
func Times(n int, of Schema) Schema {
	return Each(of).With("minItems", n).With("maxItems", n)
}

// Or is one of two forms, which differ by their types.
func Or(a, b Schema) Schema { return Schema{{"anyOf", []Schema{a, b}}} }

// Const is one text and no other.
func Const(text string) Schema { return Schema{{"const", text}} }

// scalar is what a YAML reader makes of a text without quotes: the title 2024 is
// a number to it, and the name "on" of YAML 1.1 a truth value.
var scalar = []string{"string", "number", "boolean"}

// Scalar is any text.
func Scalar() Schema { return Of(scalar...) }

// Anything takes any value.
func Anything() Schema { return Schema{} }

// Of is anything of these types.
func Of(types ...string) Schema {
	if len(types) == 1 {
		return Schema{{"type", types[0]}}
	}
	return Schema{{"type", types}}
}

// OrText is a mapping or a list, or a text in its place.
func (s Schema) OrText() Schema {
	return s.With("type", append([]string{s.Get("type").(string)}, scalar...))
}

// Only is what some keywords of s say.
func (s Schema) Only(names ...string) Schema {
	return slices.DeleteFunc(slices.Clone(s), func(k Keyword) bool { return !slices.Contains(names, k.Name) })
}

// WhereIs holds where a key says a certain word, or is not written.
func WhereIs(key, word string) Schema {
	return Schema{}.With("properties", Schema{}.With(key, Const(word)))
}
