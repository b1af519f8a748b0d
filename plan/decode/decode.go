// Package decode turns a YAML tree into Go values by a table of keys, and writes the
// same table as JSON Schema. It knows what a key, a name, a quantity or a selection
// list looks like and says, at line and column, what is wrong with one; it does not
// know what any of them means. Every value keeps the place where it was written.
package decode

import (
	"strconv"

	"gridferry/plan/diag"
	"gridferry/plan/internal/ynode"
	"gridferry/plan/wording"
)

// Node is a cursor over the tree of a file that was read.
type Node = ynode.Node

// File reads a whole YAML (or JSON) file; false when there is nothing to
// decode, and then list says why.
func File(file, text string, list *diag.List) (Node, bool) {
	return ynode.Parse(file, text, list)
}

// Value is something that was written, and where. The zero Value was not
// written at all.
type Value[T any] struct {
	V     T
	Place diag.Place
}

// IsSet reports whether the value was written.
func (v Value[T]) IsSet() bool { return !v.Place.IsZero() }

// Or is the value, or what holds when it was not written.
func (v Value[T]) Or(otherwise T) T {
	if v.IsSet() {
		return v.V
	}
	return otherwise
}

// Reader decodes nodes and collects what is wrong with them.
type Reader struct {
	List   *diag.List
	unused []Written // empty, and lent to whoever reads a mapping
}

// IsText, IsList and IsMap report what a node is, for keys that take several forms.
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
		r.List.Errorf("null-value", n.Place(), "the value is empty, wanted %s", wanted).
			WithHint("write a value or leave the key out")
		return
	case ynode.Scalar:
		found = strconv.Quote(wording.Brief(n.Text()))
	case ynode.Seq, ynode.Map: // by their names
	}
	f := r.List.Errorf("wrong-type", n.Place(), "found %s, wanted %s", found, wanted)
	if hint := typeHint(n, wanted); hint != "" {
		f.WithHint("%s", hint)
	}
}
