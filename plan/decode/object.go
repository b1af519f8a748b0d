package decode

import (
	"slices"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/internal/ynode"
	"gridferry/plan/schema"
	"gridferry/plan/wording"
)

// Entry is one key of a mapping with its value.
type Entry = ynode.Entry

// Written is which keys of a mapping were there, and where. It is nil when
// there was no mapping at all. A check may not keep it, but clone it.
type Written map[string]diag.Place

// Has reports whether the key was there, readable or not.
func (w Written) Has(key string) bool { return !w[key].IsZero() }

// Object is a mapping by its table of keys: a key that is not in the table is an
// error with the nearest known one as a hint, and so is a missing one.
type Object struct {
	What string // in messages: "a tool"
	Keys []Key
	Over *Overlay // laid over the mapping; may be nil
	// Elsewhere is keys that people may look for here, each with where it stands instead.
	Elsewhere map[string]string
	Check     func(*Reader, Written) // what keys ask of each other; may be nil
	Rules     []schema.Rule          // the same for the schema
}

// Read decodes the mapping.
func (o Object) Read(r *Reader, n Node) {
	var written Written
	if entries, ok := o.entries(r, n); ok {
		written = r.lend()
		defer r.takeBack(written)
		o.read(r, n, entries, written)
	}
	if o.Check != nil {
		o.Check(r, written)
	}
}

// lend gives a map that nobody uses: there may be very many mappings, most of two keys.
func (r *Reader) lend() Written {
	n := len(r.unused) - 1
	if n < 0 {
		return Written{}
	}
	written := r.unused[n]
	r.unused = r.unused[:n]
	return written
}

func (r *Reader) takeBack(written Written) {
	clear(written)
	r.unused = append(r.unused, written)
}

// Schema is the keys of the mapping, and no others.
func (o Object) Schema() schema.Schema {
	var properties schema.Schema
	var required []string
	for _, k := range o.Keys {
		properties = append(properties, schema.Keyword{Name: k.Name, Value: k.schema()})
		if k.Needed {
			required = append(required, k.Name)
		}
	}
	return schema.Object(properties, required).Under(o.Rules...)
}

// read decodes the entries of a mapping, which n stands for where one is missing, and takes down in written which there are.
func (o *Object) read(r *Reader, n Node, entries []Entry, written Written) {
	keys := o.Keys
	for i, e := range entries {
		if r.List.Full() {
			break
		}
		name := e.Key.Text()
		written[name] = e.Key.Place()
		if j := slices.IndexFunc(keys, func(k Key) bool { return k.Name == name }); j >= 0 {
			keys[j].Form.Read(r, e.Value)
			continue
		}
		if number, ok := commaKey(entries, i); ok {
			r.List.Errorf("unknown-key", e.Key.Place(), "%s has no key %q", o.What, name).WithHint("a decimal point, not a comma: %s?", number)
			continue
		}
		f, meant := r.unknownKey(e.Key, o)
		if meant != "" && !written.Has(meant) {
			written[meant] = e.Key.Place() // one mistake is not also a key that is missing
		}
		if slices.ContainsFunc(entries, func(other Entry) bool { return other.Key.Text() == meant }) {
			f.Fix = diag.Fix{} // which one of the two holds, nobody knows
		}
	}
	for i := range keys {
		if keys[i].Needed && !written.Has(keys[i].Name) {
			r.missingKey(n.Place(), o.What, &keys[i])
		}
	}
}

// unknownKey reports a key that is not in the table, and gives the one that was
// probably meant, or nothing.
func (r *Reader) unknownKey(key Node, o *Object) (f *diag.Finding, meant string) {
	keys, names := o.Keys, Names(o.Keys)
	f = r.List.Errorf("unknown-key", key.Place(), "%s has no key %q", o.What, wording.Brief(key.Text()))
	if where := o.Elsewhere[key.Text()]; where != "" {
		f.WithHint("%s", where)
		return f, ""
	}
	if i := slices.IndexFunc(keys, func(k Key) bool { return k.was == key.Text() }); i >= 0 && keys[i].was != "" {
		f.WithHint("it is called %q now", names[i])
		f.Fix = diag.Fix{Found: key.Text(), Put: names[i]}
		return f, names[i]
	}
	near := r.List.Nearest(key.Text(), names)
	if near != "" {
		f.DidYouMean(key.Text(), near)
	} else {
		f.WithHint("it has: %s", strings.Join(names, ", "))
	}
	return f, near
}

// missingKey reports a key that has to be there.
func (r *Reader) missingKey(at diag.Place, what string, key *Key) {
	f := r.List.Errorf("missing-key", at, "%s needs %q", what, key.Name)
	if key.hint != "" {
		f.WithHint("%s", key.hint)
	}
}
