package decode

import (
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// Table is a mapping of names that the writer chose, in the written order.
type Table struct {
	What string // in messages: "tools"
	Of   string // the table elsewhere in which the names stand; "" where they stand here
	Each func(name Value[string]) Form
}

// Read decodes the entries whose names are good.
func (t Table) Read(r *Reader, n Node) {
	if !IsMap(n) {
		r.wrongType(n, t.What+" by name")
		return
	}
	for _, e := range n.Entries() {
		if r.List.Full() {
			return
		}
		if r.goodName(e.Key, e.Key.Text()) {
			t.Each(Value[string]{e.Key.Text(), e.Key.Place()}).Read(r, e.Value)
		}
	}
}

// Schema is the names, and what belongs to each.
func (t Table) Schema() schema.Schema {
	name := nameSchema()
	return schema.Texts(t.Each(Value[string]{}).Schema()).With("propertyNames", schema.Schema{
		{Name: "maxLength", Value: name.Get("maxLength")}, {Name: "pattern", Value: name.Get("pattern")},
	})
}

// Numbered is a mapping of whole numbers, at least one, in the written order. Its keys may
// stand in quotes, as JSON asks.
type Numbered struct {
	What      string // in messages: "outputs, each with its level"
	Example   string // "{1: on}"
	Low, High int
	Each      func(number Value[int]) Form
}

// Read decodes the entries whose numbers are good.
func (t Numbered) Read(r *Reader, n Node) {
	if !IsMap(n) {
		r.wrongType(n, t.What+", such as "+t.Example)
		return
	}
	entries := n.Entries()
	if len(entries) == 0 {
		r.List.Errorf("wrong-length", n.Place(), "found none, wanted %s", t.What).WithHint("write at least one, such as %s", t.Example)
	}
	stands := map[int]diag.Place{}
	for _, e := range entries {
		number, ok := r.whole(e.Key, t.Low, t.High)
		if !ok {
			continue
		}
		if first, again := stands[number]; again {
			r.List.Errorf("duplicate-key", e.Key.Place(), "the number %d stands in this mapping twice", number).WithNote(first, "it stands here first")
			continue
		}
		stands[number] = e.Key.Place()
		t.Each(Value[int]{number, e.Key.Place()}).Read(r, e.Value)
	}
}

// Schema is the numbers, and what belongs to each.
func (t Numbered) Schema() schema.Schema {
	return schema.Texts(t.Each(Value[int]{}).Schema()).With("minProperties", 1).
		With("propertyNames", schema.Schema{{Name: "pattern", Value: "^(?:0|[1-9][0-9]*)$"}})
}

// List is a list of things of one form.
type List struct {
	What string // in messages: "steps"
	Each func() Form
}

// Read decodes the entries.
func (l List) Read(r *Reader, n Node) {
	if !IsList(n) {
		r.wrongType(n, "a list of "+l.What)
		return
	}
	for _, item := range n.Items() {
		if r.List.Full() {
			return
		}
		l.Each().Read(r, item)
	}
}

// Schema is what each entry is.
func (l List) Schema() schema.Schema { return schema.Each(l.Each().Schema()) }

// Texts is a mapping of any texts, each with what belongs to it.
type Texts struct {
	What string // in messages: "fields, each with what the line means"
	Each func(key Node) Form
}

// Read decodes the entries.
func (t Texts) Read(r *Reader, n Node) {
	if !IsMap(n) {
		r.wrongType(n, t.What)
		return
	}
	for _, e := range n.Entries() {
		if r.List.Full() {
			return
		}
		t.Each(e.Key).Read(r, e.Value)
	}
}

// Schema is what belongs to each.
func (t Texts) Schema() schema.Schema { return schema.Texts(t.Each(Node{}).Schema()) }
