// Package names finds the names in a plan and in the files that it names, the cell and CSV tables too: where each is
// defined, and every place that refers to it. What a key or a text stands for it asks the tables of keys which read the
// files, so a key that takes names there is known here as well. A text that cannot be parsed is read by indentation and
// brackets, as far as that goes. It opens files only through the plan's source.
package names

import (
	"cmp"
	"maps"
	"slices"

	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/suggest"
)

// Name is a name that something has.
type Name struct {
	Plan  string // the plan's file, of a grid or a part; "" of what stands in a cell, which plans share
	Table string // in which it is defined, such as "frames"
	Of    string // the tool, of one of its zones or of a box of its body
	Text  string
}

// whats are the tables beside those whose names are suggested.
var whats = map[string]string{"keep_out": "keep-out box", "zones": "zone", "body": "box", "joints": "joint"}

// What says what has the name: "frame".
func (n Name) What() string { return cmp.Or(suggest.Tables[n.Table], whats[n.Table]) }

// Use is a place where a name stands.
type Use struct {
	Name    Name
	Place   diag.Place // of its letters where it is plain, else of what stands for it
	Defines bool       // the thing itself stands there
	Plain   bool       // its letters stand there as they are: no alias, no escapes

	stands diag.Place // of the text that it is in: elsewhere for an alias
	before string     // what stands before it in that text
}

// Index is the names of some plans.
type Index struct {
	uses    []Use          // by place
	of      map[Name][]int // their numbers
	others  []diag.Place   // texts with an alias somewhere that names nothing
	sources diag.Sources
	faults  map[string]string // of every file, why not all of its names may be known; "" where they are
}

// Of reads plans, or cells by themselves, and all that they name. Plans that are read together share a cell.
func Of(sources ...plan.Source) *Index {
	x := &Index{of: map[Name][]int{}, faults: map[string]string{}}
	for _, source := range sources {
		(&reader{index: x, source: source, tables: map[string]bool{}}).all()
	}
	x.settle()
	return x
}

// settle brings uses into order, each once, and finds their letters.
func (x *Index) settle() {
	slices.SortStableFunc(x.uses, func(a, b Use) int {
		return cmp.Or(a.Place.Compare(b.Place), cmp.Compare(len(a.before), len(b.before)))
	})
	kept := x.uses[:0]
	for _, u := range x.uses {
		if n := len(kept); n > 0 && kept[n-1].Place == u.Place && kept[n-1].Name == u.Name && kept[n-1].before == u.before {
			kept[n-1].Defines = kept[n-1].Defines || u.Defines // an anchor that several aliases stand for
			continue
		}
		kept = append(kept, u)
	}
	x.uses = kept
	var at spot
	for i := range x.uses {
		u := &x.uses[i]
		at.find(u, &x.sources)
		x.of[u.Name] = append(x.of[u.Name], i)
	}
}

// At is the use of a name at a line and a column, those right behind it too; false for none.
func (x *Index) At(name string, line, column int) (Use, bool) {
	here := diag.Place{File: name, Line: line, Col: column}
	i, _ := slices.BinarySearchFunc(x.uses, here, func(u Use, p diag.Place) int { return u.Place.Compare(p) })
	for _, k := range []int{i, i - 1} { // the name that begins there, rather than the one that ends there
		if k < 0 || k >= len(x.uses) {
			continue
		}
		p := x.uses[k].Place
		if p.File == name && p.Line == line && p.Col <= column && column <= p.Col+p.Width {
			return x.uses[k], true
		}
	}
	return Use{}, false
}

// Uses are the places where a name stands, in their order.
func (x *Index) Uses(n Name) []Use {
	var all []Use
	for _, i := range x.of[n] {
		all = append(all, x.uses[i])
	}
	return all
}

// Defined are the places where things are defined, in their order.
func (x *Index) Defined() []Use {
	var all []Use
	for _, u := range x.uses {
		if u.Defines {
			all = append(all, u)
		}
	}
	return all
}

// Files are the names of all files, those too that cannot be read, in their order.
func (x *Index) Files() []string { return slices.Sorted(maps.Keys(x.faults)) }

// Sources are the texts of the files.
func (x *Index) Sources() *diag.Sources { return &x.sources }
