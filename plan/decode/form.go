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

// made is a form in two functions, and perhaps around another one.
type made struct {
	schema  func() schema.Schema
	read    func(*Reader, Node)
	around  Form
	text    Form     // what is read in its place where a value is neither list nor mapping
	figures []Figure // that it takes, where it says so itself
	named   named    // likewise
}

func (m made) Schema() schema.Schema  { return m.schema() }
func (m made) Read(r *Reader, n Node) { m.read(r, n) }

// Own is a form of one's own.
func Own(schema func() schema.Schema, read func(*Reader, Node)) Form {
	return made{schema: schema, read: read}
}

// Before looks at a node before the form reads it.
func Before(form Form, look func(*Reader, Node)) Form {
	return made{schema: form.Schema, read: func(r *Reader, n Node) { look(r, n); form.Read(r, n) }, around: form}
}

// Then looks at a node once the form has read it.
func Then(form Form, look func(*Reader, Node)) Form {
	return made{schema: form.Schema, read: func(r *Reader, n Node) { form.Read(r, n); look(r, n) }, around: form}
}

// At keeps where the value stands, readable or not.
func At(dst *diag.Place, form Form) Form {
	return Before(form, func(_ *Reader, n Node) { *dst = n.Place() })
}

// Under is a form whose schema has more rules.
func Under(form Form, rules ...schema.Rule) Form {
	return made{schema: func() schema.Schema { return form.Schema().Under(rules...) }, read: form.Read, around: form}
}

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

// OrMapping reads a mapping in one form and anything else in the form of a text.
func OrMapping(text, mapping Form) Form { return either(text, mapping, IsMap) }

// OrList reads a list in one form and anything else in the form of a text.
func OrList(text, list Form) Form { return either(text, list, IsList) }

func either(text, other Form, isOther func(Node) bool) Form {
	both := func() schema.Schema {
		if text := text.Schema(); text.Get("type") == nil { // some words only
			return schema.Or(text, other.Schema())
		}
		return other.Schema().OrText()
	}
	read := func(r *Reader, n Node) {
		if isOther(n) {
			other.Read(r, n)
		} else {
			text.Read(r, n)
		}
	}
	return made{schema: both, read: read, around: other, text: text}
}
