// Package decode turns a YAML tree into Go values by a table of keys. It knows
// what a key, a name, a quantity or a selection list looks like and says, at
// line and column, what is wrong with one; it does not know what any of them
// means. Every value keeps the place where it was written.
package decode

import (
	"slices"
	"strconv"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/internal/ynode"
)

// Node is a cursor over the tree of a file that was read.
type Node = ynode.Node

// File reads a whole YAML (or JSON) file; false when there is nothing to
// decode, and then list says why.
func File(file string, data []byte, list *diag.List) (Node, bool) {
	return ynode.Parse(file, data, list)
}

// Value is something that was written, and where. The zero Value was not
// written at all.
type Value[T any] struct {
	V     T
	Place diag.Place
}

// IsSet tells whether the value was written.
func (v Value[T]) IsSet() bool { return !v.Place.IsZero() }

// Or is the value, or what holds when it was not written.
func (v Value[T]) Or(otherwise T) T {
	if v.IsSet() {
		return v.V
	}
	return otherwise
}

// Reader decodes nodes and collects what is wrong with them.
type Reader struct{ List *diag.List }

// Key is one key that a mapping may or must have, and what reads its value.
type Key struct {
	Name string
	must bool
	read func(Node)
	hint string // for who has left it out; may be empty
	was  string // what the key was called before; may be empty
}

// Must is a key that has to be there.
func Must(name string, read func(Node)) Key { return Key{Name: name, must: true, read: read} }

// May is a key that can be left out.
func May(name string, read func(Node)) Key { return Key{Name: name, read: read} }

// Written tells which keys of a mapping were there, and where. It is nil when
// there was no mapping at all.
type Written map[string]diag.Place

// Has tells whether the key was there, readable or not.
func (w Written) Has(key string) bool { return !w[key].IsZero() }

// Object reads a mapping by its table of keys: a key that is not in the table
// is an error with the nearest known one as a hint, and so is a missing one.
func (r *Reader) Object(n Node, what string, keys ...Key) Written {
	if n.Kind() != ynode.Map {
		r.wrongType(n, what+", which is a mapping of keys to values")
		return nil
	}
	return r.object(n, n.Entries(), what, keys)
}

// object reads the entries of a mapping, which n stands for where one is missing.
func (r *Reader) object(n Node, entries []ynode.Entry, what string, keys []Key) Written {
	written := make(Written, len(entries))
	for i, e := range entries {
		name := e.Key.Text()
		written[name] = e.Key.Place()
		if key, ok := find(keys, name); ok {
			key.read(e.Value)
			continue
		}
		if number, ok := commaKey(entries, i); ok {
			r.List.Errorf("unknown-key", e.Key.Place(), "%s has no key %q", what, name).WithHint("a decimal point, not a comma: %s?", number)
			continue
		}
		if meant := r.unknownKey(e.Key, what, keys); meant != "" && !written.Has(meant) {
			written[meant] = e.Key.Place() // one slip is not also a key that is missing
		}
	}
	for _, key := range keys {
		if key.must && !written.Has(key.Name) {
			r.missingKey(n.Place(), what, key)
		}
	}
	return written
}

func find(keys []Key, name string) (Key, bool) {
	for _, k := range keys {
		if k.Name == name {
			return k, true
		}
	}
	return Key{}, false
}

// unknownKey reports a key that is not in the table, and gives the one that was
// probably meant, or nothing.
func (r *Reader) unknownKey(key Node, what string, keys []Key) string {
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = k.Name
	}
	f := r.List.Errorf("unknown-key", key.Place(), "%s has no key %q", what, shorten(key.Text()))
	if i := slices.IndexFunc(keys, func(k Key) bool { return k.was == key.Text() }); i >= 0 && keys[i].was != "" {
		f.WithHint("it is called %q now", names[i])
		return names[i]
	}
	near := diag.Nearest(key.Text(), names)
	if near != "" {
		f.WithHint("did you mean %q?", near)
	} else {
		f.WithHint("it has: %s", strings.Join(names, ", "))
	}
	return near
}

// Table reads a mapping of names that the writer chose, in the written order.
func (r *Reader) Table(n Node, what string, each func(name Value[string], n Node)) {
	if n.Kind() != ynode.Map {
		r.wrongType(n, what+" by name")
		return
	}
	for _, e := range n.Entries() {
		if r.goodName(e.Key, e.Key.Text()) {
			each(Value[string]{e.Key.Text(), e.Key.Place()}, e.Value)
		}
	}
}

// Each reads a list.
func (r *Reader) Each(n Node, what string, each func(Node)) bool {
	if n.Kind() != ynode.Seq {
		r.wrongType(n, "a list of "+what)
		return false
	}
	for _, item := range n.Items() {
		each(item)
	}
	return true
}

// IsText, IsList and IsMap tell what a node is, for keys that take several forms.
func IsText(n Node) bool { return n.Kind() == ynode.Scalar }
func IsList(n Node) bool { return n.Kind() == ynode.Seq }
func IsMap(n Node) bool  { return n.Kind() == ynode.Map }

// WrongType says what was wanted where something else was found.
func (r *Reader) WrongType(n Node, wanted string) { r.wrongType(n, wanted) }

func (r *Reader) wrongType(n Node, wanted string) {
	found := n.Kind().String()
	switch n.Kind() {
	case ynode.Invalid:
		return
	case ynode.Null:
		r.List.Errorf("null-value", n.Place(), "nothing is written here, wanted %s", wanted).
			WithHint("write a value or leave the key out")
		return
	case ynode.Scalar:
		found = strconv.Quote(shorten(n.Text()))
	}
	f := r.List.Errorf("wrong-type", n.Place(), "found %s, wanted %s", found, wanted)
	if hint := typeHint(n, wanted); hint != "" {
		f.WithHint("%s", hint)
	}
}

// shorten keeps a message readable when the value at fault is a page long.
func shorten(text string) string {
	const most = 40
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	return string(runes[:most]) + "…"
}
