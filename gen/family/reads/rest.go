package reads

import (
	"bytes"
	"slices"
)

// Rest is the words of a move's line that no field takes: a reading that passes over them
// with a pattern of its own, or with a column "-", says that they do not matter to it.
type Rest struct {
	Words  string
	Fields FieldSet // that the line has; the words between them differ where these do
}

// restOf is the rest of a line that an entry fits.
func (e *Entry) restOf(text []byte) Rest {
	if e.Line == nil {
		return e.restOfRow(text)
	}
	var rest Rest
	var words []byte
	found, _ := e.Find(text, nil)
	slices.SortFunc(found, func(a, b Found) int { return a.From - b.From })
	at := 0
	for _, f := range found {
		if f.From >= at {
			words = append(append(words, text[at:f.From]...), ' ')
			at = f.To
		}
		rest.Fields = rest.Fields.With(f.Field)
	}
	rest.Words = string(append(words, text[at:]...))
	return rest
}

func (e *Entry) restOfRow(text []byte) Rest {
	var rest Rest
	var words [][]byte
	text, between := e.columns(text)
	columns := bytes.Split(text, between)
	for i, f := range e.Row {
		if f == NoField && i < len(columns) {
			words = append(words, bytes.TrimSpace(columns[i]))
		}
	}
	rest.Words = string(bytes.Join(words, []byte(", ")))
	return rest
}

// Differs reports whether the rest of two lines with the same fields is not the same.
func (r Rest) Differs(other Rest) bool { return r.Fields == other.Fields && r.Words != other.Words }
