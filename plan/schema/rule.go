package schema

import "slices"

// Rule is a further demand that a schema makes, such as what keys ask of each other.
type Rule func(Schema) Schema

// Under is s with more rules.
func (s Schema) Under(rules ...Rule) Schema {
	for _, rule := range rules {
		s = rule(s)
	}
	return s
}

// With demands what a keyword says.
func With(name string, value any) Rule {
	return func(s Schema) Schema { return s.With(name, value) }
}

// Without drops what some keywords demand.
func Without(names ...string) Rule {
	return func(s Schema) Schema {
		return slices.DeleteFunc(slices.Clone(s), func(k Keyword) bool { return slices.Contains(names, k.Name) })
	}
}

// OneOf holds a mapping to exactly one of some keys.
func OneOf(keys ...string) Rule { return OneWay(each(keys)...) }

// OneWay holds it to exactly one of several ways of saying something: each is the
// keys that have to be there.
func OneWay(ways ...[]string) Rule { return With("oneOf", demands(ways)) }

// SomeOf holds it to at least one of some keys.
func SomeOf(keys ...string) Rule { return SomeWay(each(keys)...) }

// SomeWay holds it to at least one of several ways of saying something.
func SomeWay(ways ...[]string) Rule { return With("anyOf", demands(ways)) }

// NeverBoth refuses each of several pairs of keys beside one another.
func NeverBoth(pairs ...[]string) Rule {
	return With("not", Of("object").With("anyOf", demands(pairs)))
}

// Wanting says that one key asks for another: {"corner", "standard"} is a corner,
// which says nothing without a standard.
func Wanting(pairs ...[2]string) Rule {
	var wants Schema
	for _, p := range pairs {
		wants = append(wants, Keyword{p[0], []string{p[1]}})
	}
	return With("dependentRequired", wants)
}

func each(keys []string) [][]string {
	var ways [][]string
	for _, key := range keys {
		ways = append(ways, []string{key})
	}
	return ways
}

func demands(ways [][]string) []Schema {
	var all []Schema
	for _, keys := range ways {
		all = append(all, Required(keys...))
	}
	return all
}
