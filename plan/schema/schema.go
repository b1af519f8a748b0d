// Package schema says in JSON Schema what package decode reads, so that an
// editor can complete keys and mark mistakes while a file is being written. Its
// functions are named like the readers whose values they describe.
//
// JSON Schema, draft 2020-12: https://json-schema.org/draft/2020-12
package schema

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"
	"strings"
)

// draft names the dialect that the schemas are written in.
const draft = "https://json-schema.org/draft/2020-12/schema"

// Schema is one schema: its keywords in the order in which they are printed.
type Schema []Keyword

// Keyword is one keyword with what it says: a text, a number, a truth value, a
// Schema, or a list of those.
type Keyword struct {
	Name  string
	Value any
}

// With is s with one more keyword, or another value for one that it has.
func (s Schema) With(name string, value any) Schema {
	out := slices.Clone(s)
	for i := range out {
		if out[i].Name == name {
			out[i].Value = value
			return out
		}
	}
	return append(out, Keyword{name, value})
}

// Get is what a keyword says, nil where s has none of that name.
func (s Schema) Get(name string) any {
	for _, k := range s {
		if k.Name == name {
			return k.Value
		}
	}
	return nil
}

// Default is s with the value that holds where none is written.
func (s Schema) Default(value any) Schema { return s.With("default", value) }

// reference stands for a schema that several places share.
type reference struct {
	name   string
	schema Schema
}

// Shared is a schema that is written once, under "$defs", and referred to by name.
func Shared(name string, s Schema) Schema {
	return Schema{{"$ref", reference{name, s}}}
}

func (r reference) MarshalJSON() ([]byte, error) { return encode("#/$defs/" + r.name) }

// MarshalJSON writes the keywords in their order.
func (s Schema) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for i, k := range s {
		name, err := encode(k.Name)
		if err != nil {
			return nil, err
		}
		value, err := encode(k.Value)
		if err != nil {
			return nil, err
		}
		b.WriteByte("{,"[min(i, 1)])
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	if len(s) == 0 {
		b.WriteByte('{')
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// encode is json.Marshal without the escapes that only web pages need.
func encode(value any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(value)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}

// Write prints a schema as a document of its own, with what it shares.
func Write(w io.Writer, title string, s Schema) error {
	document := append(Schema{{"$schema", draft}, {"title", title}}, s...)
	shared := map[string]Schema{}
	collect(s, shared)
	var defs Schema
	for name, def := range shared {
		defs = append(defs, Keyword{name, def})
	}
	if defs != nil {
		slices.SortFunc(defs, func(a, b Keyword) int { return strings.Compare(a.Name, b.Name) })
		document = append(document, Keyword{"$defs", defs})
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(document)
}

// collect gathers the schemas that a value refers to.
func collect(value any, shared map[string]Schema) {
	switch v := value.(type) {
	case Schema:
		for _, k := range v {
			collect(k.Value, shared)
		}
	case []Schema:
		for _, s := range v {
			collect(s, shared)
		}
	case reference:
		shared[v.name] = v.schema
		collect(v.schema, shared)
	}
}
