package ynode

import (
	"fmt"
	"reflect"
	"strings"

	"gopkg.in/yaml.v3"
)

// reader reads the documents of a text one after another.
type reader struct {
	dec *yaml.Decoder
}

func newReader(text string) *reader {
	return &reader{yaml.NewDecoder(strings.NewReader(text))}
}

// next reads the next document; the error is io.EOF when there is none. The library is known to panic on some malformed texts:
// such a panic is a fault of the text like any other.
func (r *reader) next() (doc *yaml.Node, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("yaml: %v", p)
		}
	}()
	doc = new(yaml.Node)
	err = r.dec.Decode(doc)
	return doc, err
}

// mark is a place in the text as the library counts: from 1 here, 0 for unknown.
type mark struct{ line, col int }

// fault is what the library knows about a text that it cannot read.
type fault struct {
	problem string
	at      mark // where the reader was when it noticed
	begin   mark // where the thing begins that it was reading; unknown for some problems
}

// fault asks the library for what it knows about the error that next returned.
//
// The library puts into its message a line that is often the wrong one, and no column, but it holds the exact marks in fields
// of its own, which reflection may read. TestMarksOfTheLibrary holds this; without those fields the place falls back to the
// file as a whole.
func (r *reader) fault(err error) fault {
	state := field(reflect.ValueOf(r.dec), "parser")
	if name, ok := strings.CutPrefix(err.Error(), "yaml: unknown anchor '"); ok {
		return fault{problem: unknownAnchor + strings.TrimSuffix(name, "' referenced"), at: markIn(field(state, "event"), "start_mark")}
	}
	parser := field(state, "parser")
	f := fault{at: markIn(parser, "problem_mark")}
	if p := field(parser, "problem"); p.IsValid() && p.Kind() == reflect.String {
		f.problem = p.String()
	}
	if c := field(parser, "context"); c.IsValid() && c.Kind() == reflect.String && c.Len() > 0 {
		f.begin = markIn(parser, "context_mark")
	}
	if f.problem == "" {
		f = fault{problem: strings.TrimPrefix(err.Error(), "yaml: ")}
	}
	return f
}

// unknownAnchor begins the problem of an alias without an anchor; the name follows.
const unknownAnchor = "unknown anchor "

// markIn reads one of the library's marks, which count from 0.
func markIn(v reflect.Value, name string) mark {
	m := field(v, name)
	line, col := field(m, "line"), field(m, "column")
	if !line.IsValid() || !line.CanInt() || !col.IsValid() || !col.CanInt() {
		return mark{}
	}
	return mark{int(line.Int()) + 1, int(col.Int()) + 1}
}

// field gives a field of a struct or of what a pointer points to, the invalid value if there is none.
func field(v reflect.Value, name string) reflect.Value {
	if v.IsValid() && v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	if !v.IsValid() || v.Kind() != reflect.Struct {
		return reflect.Value{}
	}
	return v.FieldByName(name)
}
