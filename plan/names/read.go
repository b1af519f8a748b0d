package names

import (
	"path"
	"slices"
	"strconv"
	"strings"

	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/suggest"
)

// reader takes in the names of one plan.
type reader struct {
	index  *Index
	source plan.Source
	tables map[string]bool // that were read, by key and file: many entries may name one

	// Of the file that is read:
	format string
	below  string // its folder below the plan's
	form   *form
}

func (r *reader) all() { r.text(r.source.File, "", string(r.source.Data)) }

// text takes in a file of keys.
func (r *reader) text(name, below, text string) {
	if _, read := r.index.faults[name]; read {
		return // a cell of several plans
	}
	within := *r
	within.format, within.below = (&suggest.File{Name: name, Text: text}).Format(), below
	form, _ := plan.FormOf(within.format)
	within.form = newForm(form)
	var list diag.List
	root, ok := decode.File(name, text, &list)
	fault := ""
	if list.HasErrors() {
		first := list.Sorted()[0]
		fault = first.Place.String() + ": " + first.Message
	}
	r.took(name, text, fault)
	if ok {
		within.walk(root, nil)
		return
	}
	suggest.Walk(name, text, func(path []string, text string, key bool, at diag.Place) {
		if !strings.HasPrefix(text, "*") { // what an alias stands for is not known
			within.see(path, text, key, at, at)
		}
	})
}

// walk takes in what is inside of a node. What a merge takes in stands where it was written.
func (r *reader) walk(n decode.Node, path []string) {
	for _, e := range n.Entries() {
		inner := append(path, e.Key.Text())
		r.see(inner, e.Key.Text(), true, e.Key.Place(), e.Key.Stands())
		r.walk(e.Value, inner)
	}
	for i, item := range n.Items() {
		r.walk(item, append(path, strconv.Itoa(i+1)))
	}
	if decode.IsText(n) {
		r.see(path, n.Text(), false, n.Place(), n.Stands())
	}
}

// see takes in a key, with its own path, or a text.
func (r *reader) see(path []string, text string, key bool, at, stands diag.Place) {
	if len(path) > 3 && path[0] == "variants" && (path[2] == "set" || path[2] == "each") {
		if len(path) == 4 && key {
			r.setting(text, at, stands)
			return
		}
		values := 4
		if path[2] == "each" {
			values++ // each value is an item of a list
		}
		path = append(strings.Split(path[3], "."), path[min(values, len(path)):]...)
	}
	if key {
		r.key(path, at, stands)
		return
	}
	if r.names(path, text, at, stands); at != stands && !r.added(at) {
		r.index.others = append(r.index.others, stands)
	}
}

// added reports whether the last use is at a place.
func (r *reader) added(at diag.Place) bool {
	n := len(r.index.uses)
	return n > 0 && r.index.uses[n-1].Place == at
}

// names takes in a text that is a name, or names a file.
func (r *reader) names(path []string, text string, at, stands diag.Place) {
	switch of := r.inCell(path); {
	case slices.Equal(of, []string{"measured"}) && r.format != plan.MeasuredFormat:
		r.open("measured", text)
	case len(of) == 4 && of[0] == "arm" && of[1] == "joints" && of[3] == "name",
		len(of) == 5 && of[0] == "arm" && of[1] == "dh" && of[4] == "name":
		r.add(Name{Table: "joints", Text: text}, true, "", at, stands)
	case r.format != plan.Format:
	case len(path) == 1 && path[0] == "cell", len(path) == 4 && path[0] == "variants" && path[2] == "cells":
		r.open("cell", text)
	case len(path) == 3 && path[0] == "grids" && path[2] == "contents":
		r.table("contents", text)
	case len(path) == 3 && path[0] == "transfers" && path[2] == "list":
		r.table("list", text)
	}
	takes := r.form.at(path)
	if takes == nil {
		return
	}
	if takes.table == "grids" {
		text, _ = plan.CutSlots(text)
	}
	if n, known := r.named(takes.table, text); known && !slices.Contains(takes.words, text) {
		r.add(n, false, "", at, stands)
	}
}

// key takes in a key that is a name.
func (r *reader) key(path []string, at, stands diag.Place) {
	last := len(path) - 1
	if n, is := r.defined(path); is {
		of := r.form.at(path[:last])
		r.add(n, of != nil && of.keys == "", "", at, stands)
	} else if of := r.inCell(path); len(of) == 3 && of[0] == "arm" && of[1] == "links" {
		r.add(Name{Table: "joints", Text: path[last]}, false, "", at, stands)
	}
}

// setting takes in the names that a path of a variant leads through: grids.tray.rows.
func (r *reader) setting(written string, at, stands diag.Place) {
	parts := strings.Split(written, ".")
	before := 0
	for i, part := range parts {
		if n, is := r.defined(parts[:i+1]); is {
			r.add(n, false, written[:before], at, stands)
		}
		before += len(part) + 1
	}
}

// named is a name that stands in a table of the plan or of its cell.
func (r *reader) named(table, text string) (n Name, known bool) {
	n = Name{Table: table, Text: text}
	if table == "grids" || table == "parts" {
		n.Plan = r.source.File
	}
	return n, suggest.Tables[table] != "" && text != ""
}

// defined is the name of what a path leads to, where that has one.
func (r *reader) defined(path []string) (n Name, is bool) {
	last := len(path) - 1
	if r.format == plan.Format && len(path) == 2 && (path[0] == "grids" || path[0] == "parts") {
		return r.named(path[0], path[last])
	}
	switch of := r.inCell(path); {
	case len(of) == 2 && slices.Contains([]string{"tools", "frames", "poses", "keep_out"}, of[0]):
		return Name{Table: of[0], Text: of[1]}, true
	case len(of) == 4 && of[0] == "tools" && (of[2] == "zones" || of[2] == "body"):
		return Name{Table: of[2], Of: of[1], Text: of[3]}, true
	}
	return Name{}, false
}

// inCell is the part of a path that leads on in the cell; nil for one that leads elsewhere.
func (r *reader) inCell(path []string) []string {
	switch {
	case r.format == plan.CellFormat || r.format == plan.MeasuredFormat:
		return path
	case r.format == plan.Format && len(path) > 1 && path[0] == "cell":
		return path[1:]
	}
	return nil
}

// add takes in a use.
func (r *reader) add(n Name, defines bool, before string, at, stands diag.Place) {
	r.index.uses = append(r.index.uses, Use{Name: n, Place: at, Defines: defines, stands: stands, before: before})
}

// took keeps the text of a file, and what is wrong with it.
func (r *reader) took(name, text, fault string) {
	r.index.sources.AddText(name, text)
	r.index.faults[name] = fault
}

// beside is the text of a file that a key names.
func (r *reader) beside(key, below, name string) (file, text string, ok bool) {
	of, data, err := r.source.Beside(key, below, name)
	if err != nil {
		r.index.faults[of.File] = of.File + ": " + err.Error()
	}
	return of.File, string(data), err == nil
}

// open takes in the file of keys that a key names.
func (r *reader) open(key, name string) {
	if file, text, ok := r.beside(key, r.below, name); ok {
		r.text(file, path.Dir(path.Join(r.below, name)), text)
	}
}

// table takes in a CSV file.
func (r *reader) table(key, name string) {
	if r.tables[key+":"+name] {
		return
	}
	r.tables[key+":"+name] = true
	file, text, ok := r.beside(key, "", name)
	if !ok {
		return
	}
	fault := ""
	whole := plan.NamesIn(key, file, text, func(table string, field plan.Text) {
		text, _ := plan.CutSlots(field.V)
		if n, known := r.named(table, text); known {
			r.add(n, false, "", field.Place, field.Place)
		}
	})
	if !whole {
		fault = file + ": the table cannot be read"
	}
	r.took(file, text, fault)
}
