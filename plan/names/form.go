package names

import "gridferry/plan/decode"

// form is what a key of a table takes, with those inside of it, each found once.
type form struct {
	is    decode.Form
	shape decode.Shape
	table string   // in which the names stand that it takes
	words []string // that it takes beside those
	keys  string   // the table in which its keys stand; "" where they stand here

	inside map[string]*form
}

func newForm(is decode.Form) *form {
	f := &form{is: is, shape: decode.ShapeOf(is), keys: decode.NamesElsewhere(is), inside: map[string]*form{}}
	f.table, f.words = decode.NamesOf(is)
	return f
}

// at is the form to which a path leads; nil for one that no table knows.
func (f *form) at(path []string) *form {
	for _, part := range path {
		key := part
		if f.shape == decode.Listed || f.shape == decode.Tabled { // where all are alike
			key = ""
		}
		next, known := f.inside[key]
		if !known {
			if row, found := decode.Find(f.is, part); found {
				next = newForm(row.Form)
			}
			f.inside[key] = next
		}
		if f = next; f == nil {
			return nil
		}
	}
	return f
}
