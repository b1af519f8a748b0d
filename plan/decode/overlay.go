package decode

import (
	"slices"

	"gridferry/plan/internal/ynode"
)

// Overlay is a mapping that is laid over another: what it says counts.
type Overlay struct {
	Node Node // absent where nothing is laid over
	// Alternatives are keys that say the same thing in different ways: one of
	// them in the overlay hides all of them below.
	Alternatives []string
	// Hidden is called for what the overlay hides; may be nil.
	Hidden func(Entry)
}

// entries is what a mapping holds with its overlay, below which there may be nothing
// at all ("bath:"); false where there is no mapping.
func (o *Object) entries(r *Reader, n Node) ([]Entry, bool) {
	over := o.Over
	if over == nil || over.Node.IsZero() {
		return n.Entries(), o.isMapping(r, n)
	}
	if !o.isMapping(r, over.Node) || n.Kind() != ynode.Null && !o.isMapping(r, n) {
		return nil, false
	}
	upper := over.Node.Entries()
	return append(over.uncovered(n.Entries(), upper), upper...), true
}

func (o *Object) isMapping(r *Reader, n Node) bool {
	if !IsMap(n) {
		r.wrongType(n, o.What+", which is a mapping of keys to values")
		return false
	}
	return true
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
