package schema

import "fmt"

// Key is one key that a mapping may or must have.
type Key struct {
	Name string
	must bool
	of   Schema
}

// Must is a key that has to be there. The sentence tells people what it is.
func Must(name, doc string, of Schema) Key { return Key{name, true, described(doc, of)} }

// May is a key that can be left out.
func May(name, doc string, of Schema) Key { return Key{name, false, described(doc, of)} }

func described(doc string, of Schema) Schema {
	return append(Schema{{"description", doc}}, of...)
}

// Object is a mapping with these keys and no others.
func Object(keys ...Key) Schema {
	var properties Schema
	var required []string
	for _, k := range keys {
		properties = append(properties, Keyword{k.Name, k.of})
		if k.must {
			required = append(required, k.Name)
		}
	}
	s := Schema{{"type", "object"}, {"properties", properties}}
	if required != nil {
		s = append(s, Keyword{"required", required})
	}
	return append(s, Keyword{"additionalProperties", false})
}

// Needing is s, in which some keys have to be there.
func (s Schema) Needing(keys ...string) Schema { return s.With("required", keys) }

// Required is the bare demand that some keys are there.
func Required(keys ...string) Schema { return Schema{}.Needing(keys...) }

// OneWay holds a mapping to exactly one of several ways of saying something: each
// is the keys that have to be there.
func (s Schema) OneWay(ways ...[]string) Schema { return s.With("oneOf", demands(ways)) }

// SomeWay holds a mapping to at least one of several ways.
func (s Schema) SomeWay(ways ...[]string) Schema { return s.With("anyOf", demands(ways)) }

// NeverBoth refuses each of several pairs of keys beside one another.
func (s Schema) NeverBoth(pairs ...[]string) Schema {
	return s.With("not", Schema{{"type", "object"}, {"anyOf", demands(pairs)}})
}

func demands(ways [][]string) []Schema {
	var all []Schema
	for _, keys := range ways {
		all = append(all, Required(keys...))
	}
	return all
}

// Above is the condition that a whole number is written which is more than n.
func Above(n int, key string) Schema {
	more := Schema{{"type", "integer"}, {"exclusiveMinimum", n}}
	return Required(key).With("properties", Schema{{key, more}})
}

// When makes a demand under a condition.
func (s Schema) When(condition, demand Schema) Schema {
	return s.With("if", condition).With("then", demand)
}

// Wanting says that one key asks for another: {"corner", "standard"} is a corner,
// which says nothing without a standard.
func (s Schema) Wanting(pairs ...[2]string) Schema {
	var wants Schema
	for _, p := range pairs {
		wants = append(wants, Keyword{p[0], []string{p[1]}})
	}
	return s.With("dependentRequired", wants)
}

// Table is a mapping of names that the writer chose.
func Table(of Schema) Schema {
	name := Schema{{"maxLength", longestName}, {"pattern", namePattern}}
	return Schema{{"type", "object"}, {"propertyNames", name}, {"additionalProperties", of}}
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

// Or is one of two forms, told apart by their types.
func Or(a, b Schema) Schema { return Schema{{"anyOf", []Schema{a, b}}} }

// OrText is a mapping, or a text in its place.
func (s Schema) OrText() Schema {
	if s.Get("type") != "object" {
		panic(fmt.Sprintf("%v in place of a text, wanted a mapping", s.Get("type")))
	}
	return s.With("type", append([]string{"object"}, scalar...))
}
