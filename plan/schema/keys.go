package schema

import "strconv"

// Keys is the keys that a text described by s can have at the end of a path of keys, names
// and numbers of entries. Names that the writer chooses are none.
func (s Schema) Keys(path []string) []string {
	var keys []string
	for _, k := range s {
		keys = append(keys, k.keys(path)...)
	}
	return keys
}

func (k Keyword) keys(path []string) []string {
	switch value := k.Value.(type) {
	case reference:
		return value.schema.Keys(path)
	case []Schema:
		var keys []string
		for _, one := range value {
			keys = append(keys, one.Keys(path)...)
		}
		return keys
	case Schema:
		return below(k.Name, value, path)
	}
	return nil
}

// below looks behind a keyword whose value is a schema.
func below(keyword string, s Schema, path []string) []string {
	switch {
	case keyword == "then" || keyword == "else":
		return s.Keys(path)
	case keyword == "properties" && len(path) == 0:
		var keys []string
		for _, property := range s {
			keys = append(keys, property.Name)
		}
		return keys
	case len(path) == 0:
		return nil
	case keyword == "properties":
		next, _ := s.Get(path[0]).(Schema)
		return next.Keys(path[1:])
	case keyword == "additionalProperties":
		return s.Keys(path[1:])
	case keyword == "items":
		if _, err := strconv.Atoi(path[0]); err == nil {
			return s.Keys(path[1:])
		}
	}
	return nil
}
