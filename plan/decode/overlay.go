package decode

import (
	"slices"

	"gridferry/plan/internal/ynode"
)

// Entry is one key of a mapping with its value.
type Entry = ynode.Entry

// Overlay is a mapping that is laid over another: what it says counts.
type Overlay struct {
	Node Node // absent where nothing is laid over
	// Alternatives are keys that say the same thing in different ways: one of
	// them in the overlay hides all of them below.
	Alternatives []string
	// Hidden is told what the overlay hides; may be nil.
	Hidden func(Entry)
}

// ObjectUnder reads a mapping as Object does, with another one laid over it. Below
// an overlay there may be nothing at all ("bath:").
func (r *Reader) ObjectUnder(n Node, over Overlay, what string, keys ...Key) Written {
	if over.Node.IsZero() {
		return r.Object(n, what, keys...)
	}
	if !IsMap(over.Node) {
		r.wrongType(over.Node, what+", which is a mapping of keys to values")
		return nil
	}
	if !IsMap(n) && n.Kind() != ynode.Null {
		r.wrongType(n, what+", which is a mapping of keys to values")
		return nil
	}
	upper := over.Node.Entries()
	entries := append(over.uncovered(n.Entries(), upper), upper...)
	return r.object(n, entries, what, keys)
}

// uncovered is what the overlay's entries leave of those below.
func (o *Overlay) uncovered(lower, upper []Entry) []Entry {
	hides := map[string]bool{}
	for _, e := range upper {
		hides[e.Key.Text()] = true
		if slices.Contains(o.Alternatives, e.Key.Text()) {
			for _, key := range o.Alternatives {
				hides[key] = true
			}
		}
	}
	var left []Entry
	for _, e := range lower {
		if !hides[e.Key.Text()] {
			left = append(left, e)
		} else if o.Hidden != nil {
			o.Hidden(e)
		}
	}
	return left
}
