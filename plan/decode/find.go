package decode

import "slices"

// Keys is the table of keys of a form; nil for what is no mapping of known keys.
func Keys(form Form) []Key {
	object, _ := bare(form).(Object)
	return object.Keys
}

// bare is a form without what was made around it.
func bare(form Form) Form {
	for m, ok := form.(made); ok && m.around != nil; m, ok = form.(made) {
		form = m.around
	}
	return form
}

// Find is the row of the key that a path leads to, as in grids.tray.rows. What a
// writer named, what stands in a list, and the form itself, where no path leads, have a
// row with a form and no sentence.
func Find(form Form, path ...string) (row Key, found bool) {
	row = Key{Form: form}
	for _, part := range path {
		if row, found = inside(row.Form, part); !found {
			return row, false
		}
	}
	return row, true
}

func inside(form Form, part string) (Key, bool) {
	switch form := bare(form).(type) {
	case Table:
		return May(part, "", form.Each(Value[string]{V: part})), true
	case Numbered:
		return May(part, "", form.Each(Value[int]{})), true
	case List:
		return May(part, "", form.Each()), true
	case Object:
		if i := slices.IndexFunc(form.Keys, func(k Key) bool { return k.Name == part }); i >= 0 {
			return form.Keys[i], true
		}
	}
	return Key{}, false
}
