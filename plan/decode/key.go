package decode

import (
	"fmt"
	"strings"

	"gridferry/plan/schema"
)

// Key is one key that a mapping may or must have: all that is known of it.
type Key struct {
	Name string
	// Doc is sentences for people. Editors show the first one, pages all of them.
	Doc  string
	Form Form
	// Usual is what holds where the key is left out, and LeftOut the same in words
	// where no value says it.
	Usual   any
	LeftOut string

	Needed bool // it has to be there

	hint string // for who has left it out; may be empty
	was  string // what the key was called before; may be empty
}

// Names are the names of keys, in their order.
func Names(keys []Key) []string {
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = k.Name
	}
	return names
}

// Must is a key that has to be there.
func Must(name, doc string, form Form) Key {
	return Key{Name: name, Doc: doc, Form: form, Needed: true}
}

// May is a key that can be left out.
func May(name, doc string, form Form) Key { return Key{Name: name, Doc: doc, Form: form} }

// Default is a key with the value that holds where it is left out.
func (k Key) Default(usual any) Key {
	k.Usual = usual
	return k
}

// Else is a key with words for what holds where it is left out.
func (k Key) Else(words string) Key {
	k.LeftOut = words
	return k
}

// Was is a key that had another name before; that name is an error whose hint is the
// new one.
func (k Key) Was(name string) Key {
	k.was = name
	return k
}

// FirstLine is the key that says of what format a file is, and has to be there.
func FirstLine(format, of string) Key {
	read := func(r *Reader, n Node) {
		var got Value[string]
		Text(&got).Read(r, n)
		if got.IsSet() && got.V != format {
			r.List.Errorf("bad-format", got.Place, "the format is %q, wanted %q", got.V, format).
				WithHint("this version reads %q only", format)
		}
	}
	constant := func() schema.Schema { return schema.Const(format) }
	first := Must("format", "The first line of every "+of+".", Own(constant, read))
	first.hint = fmt.Sprintf("write \"format: %s\" as the first line", format)
	return first
}

// schema is what a schema says of the key's value.
func (k Key) schema() schema.Schema {
	first, _, _ := strings.Cut(k.Doc, ". ")
	doc := strings.TrimSuffix(strings.ReplaceAll(first, "`", ""), ".")
	if k.LeftOut != "" {
		doc += "; left out: " + strings.ReplaceAll(k.LeftOut, "`", "")
	}
	s := append(schema.Schema{{Name: "description", Value: doc + "."}}, k.Form.Schema()...)
	if k.Usual != nil {
		s = s.With("default", k.Usual)
	}
	return s
}
