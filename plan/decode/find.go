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
	case Texts:
		return May(part, "", form.Each(Node{})), true
	case List:
		return May(part, "", form.Each()), true
	case Object:
		if i := slices.IndexFunc(form.Keys, func(k Key) bool { return k.Name == part }); i >= 0 {
			return form.Keys[i], true
		}
	}
	return Key{}, false
}

// Shape is what a form takes where a value is more than a text.
type Shape uint8

// The shapes.
const (
	OneText Shape = iota // a text alone
	Listed               // a list, of any length or of so many figures
	Keyed                // a mapping of known keys
	Tabled               // a mapping of names, numbers or texts of the writer's own
)

// ShapeOf is the shape of a form. Where it also takes a text, that is not its shape.
func ShapeOf(form Form) Shape {
	switch bare(form).(type) {
	case Object:
		return Keyed
	case Table, Numbered, Texts:
		return Tabled
	case List:
		return Listed
	}
	if len(Figures(form)) > 1 {
		return Listed
	}
	return OneText
}

// NamesElsewhere is the table of names in which those of a mapping stand, "" where they
// stand in the mapping itself.
func NamesElsewhere(form Form) string {
	table, _ := bare(form).(Table)
	return table.Of
}
