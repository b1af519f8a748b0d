package decode

import (
	"slices"

	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// Form is how a value is written: it reads one, and says in JSON Schema what it
// reads. A form that is asked for its schema only may have nowhere to put a value.
type Form interface {
	Read(*Reader, Node)
	Schema() schema.Schema
}

// own is a form in two functions.
type own struct {
	schema func() schema.Schema
	read   func(*Reader, Node)
}

func (o own) Schema() schema.Schema  { return o.schema() }
func (o own) Read(r *Reader, n Node) { o.read(r, n) }

// Own is a form of one's own.
func Own(schema func() schema.Schema, read func(*Reader, Node)) Form { return own{schema, read} }

// wrapped is a form with something more to it.
type wrapped struct {
	Form
	before, after func(*Reader, Node)
	rules         []schema.Rule
}

func (w wrapped) Read(r *Reader, n Node) {
	if w.before != nil {
		w.before(r, n)
	}
	w.Form.Read(r, n)
	if w.after != nil {
		w.after(r, n)
	}
}

func (w wrapped) Schema() schema.Schema { return w.Form.Schema().Under(w.rules...) }

// Before looks at a node before the form reads it.
func Before(form Form, look func(*Reader, Node)) Form { return wrapped{Form: form, before: look} }

// Then looks at a node once the form has read it.
func Then(form Form, look func(*Reader, Node)) Form { return wrapped{Form: form, after: look} }

// At keeps where the value stands, readable or not.
func At(dst *diag.Place, form Form) Form {
	return Before(form, func(_ *Reader, n Node) { *dst = n.Place() })
}

// Under is a form whose schema has more rules.
func Under(form Form, rules ...schema.Rule) Form { return wrapped{Form: form, rules: rules} }

// Shared is a form whose schema several places share, under a name.
func Shared(name string, form Form) Form {
	return Under(form, func(s schema.Schema) schema.Schema { return schema.Shared(name, s) })
}

// Plain keeps a value without its place: the zero one where it cannot be read.
func Plain[T any](dst *T, form func(*Value[T]) Form) Form {
	var value Value[T]
	return Then(form(&value), func(*Reader, Node) { *dst = value.V })
}

// Choice reads one of a few words and keeps what it stands for.
func Choice[T any](dst *T, words []string, values []T) Form {
	var word Value[string]
	return Then(OneOf(&word, words...), func(*Reader, Node) {
		if i := slices.Index(words, word.V); i >= 0 {
			*dst = values[i]
		}
	})
}

// either is a text, or a mapping or a list in its place.
type either struct {
	text, other Form
	isOther     func(Node) bool
}

// OrMapping reads a mapping in one form and anything else in the form of a text.
func OrMapping(text, mapping Form) Form { return either{text, mapping, IsMap} }

// OrList reads a list in one form and anything else in the form of a text.
func OrList(text, list Form) Form { return either{text, list, IsList} }

func (e either) Read(r *Reader, n Node) {
	if e.isOther(n) {
		e.other.Read(r, n)
	} else {
		e.text.Read(r, n)
	}
}

func (e either) Schema() schema.Schema {
	if text := e.text.Schema(); text.Get("type") == nil { // some words only
		return schema.Or(text, e.other.Schema())
	}
	return e.other.Schema().OrText()
}
