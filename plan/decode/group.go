package decode

import "gridferry/plan/schema"

// Table is a mapping of names that the writer chose, in the written order.
type Table struct {
	What string // in messages: "tools"
	Each func(name Value[string]) Form
}

// Read decodes the entries whose names are good.
func (t Table) Read(r *Reader, n Node) {
	if !IsMap(n) {
		r.wrongType(n, t.What+" by name")
		return
	}
	for _, e := range n.Entries() {
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
		t.Each(e.Key).Read(r, e.Value)
	}
}

// Schema is what belongs to each.
func (t Texts) Schema() schema.Schema { return schema.Texts(t.Each(Node{}).Schema()) }
