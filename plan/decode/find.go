package decode

import "slices"

// Keys is the table of keys of a form; nil for what is no mapping of known keys.
func Keys(form Form) []Key {
	switch form := form.(type) {
	case Object:
		return form.Keys
	case wrapped:
		return Keys(form.Form)
	case either:
		return Keys(form.other)
	}
	return nil
}

// Find is the row of the key that a path leads to, as in grids.tray.rows. What a
// writer named, and what stands in a list, has a row with a form and no sentence.
func Find(form Form, path ...string) (row Key, found bool) {
	for _, part := range path {
		if row, found = inside(form, part); !found {
			return row, false
		}
		form = row.Form
	}
	return row, found
}

func inside(form Form, part string) (Key, bool) {
	switch form := form.(type) {
	case wrapped:
		return inside(form.Form, part)
	case either:
		return inside(form.other, part)
	case Table:
		return May(part, "", form.Each(Value[string]{V: part})), true
	case List:
		return May(part, "", form.Each()), true
	}
	keys := Keys(form)
	i := slices.IndexFunc(keys, func(k Key) bool { return k.Name == part })
	if i < 0 {
		return Key{}, false
	}
	return keys[i], true
}
