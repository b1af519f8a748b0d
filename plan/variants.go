package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// VariantsFormat is the first line of every file of variants.
const VariantsFormat = "gridferry variants 1"

// Variant is a plan with some values changed.
type Variant struct {
	Name     string // of its folder, too: no two of a plan differ only in capitals
	Place    diag.Place
	Settings []Setting
}

// MostVariants is how many variants a plan may have.
const MostVariants = 10_000

// PlanVariants reads the variants that stand in a plan, in the order in which they are
// written; of a matrix the last value changes quickest. False when something is wrong
// with them, and then list says what. The rest of the plan is not looked at.
func PlanVariants(source Source, list *diag.List, sources *diag.Sources) ([]Variant, bool) {
	r, root, ok := openVariants(source, list, sources)
	if !ok {
		return nil, false
	}
	var found []Variant
	variants(&found).Read(&r.Reader, root.Child("variants"))
	return found, !list.HasErrors()
}

// ReadVariants reads a file of variants, or those that stand in some other plan.
func ReadVariants(source Source, list *diag.List, sources *diag.Sources) ([]Variant, bool) {
	r, root, ok := openVariants(source, list, sources)
	if !ok {
		return nil, false
	}
	if root.Child("format").Text() == Format {
		return PlanVariants(source, list, sources)
	}
	var found []Variant
	variantsFile(&found).Read(&r.Reader, root)
	return found, !list.HasErrors()
}

func variantsFile(dst *[]Variant) decode.Form {
	return decode.Object{What: kinds[VariantsFormat], Keys: []decode.Key{
		decode.FirstLine(VariantsFormat, "file of variants"),
		decode.Must("variants", variantsDoc, decode.Under(variants(dst), atLeast(1))),
	}}
}

const variantsDoc = "The same plan with other values, one program each."

// openVariants opens a file that has variants, whatever else it is.
func openVariants(source Source, list *diag.List, sources *diag.Sources) (*reader, decode.Node, bool) {
	r := &reader{Reader: decode.Reader{List: list}, sources: sources, given: map[string]bool{}}
	root, ok := r.file(source.File, source.Data)
	if !ok {
		return r, root, false
	}
	n := root.Child("variants")
	switch {
	case !decode.IsMap(root):
		r.WrongType(root, "a plan or a file of variants, which is a mapping of keys to values")
	case n.IsZero():
		list.Errorf("no-variants", root.Place(), "%q says no variants", source.File).
			WithHint("write \"variants:\" in it, or name a file of variants with --variants")
	case decode.IsList(n) && len(n.Items()) == 0:
		list.Errorf("no-variants", n.Place(), "the list of variants is empty, wanted one variant or more").
			WithHint("write an entry, such as \"- {name: small, set: {grids.tray.rows: 2}}\"")
	default:
		return r, root, true
	}
	return r, root, false
}

// variantEntry is one entry of "variants": every cell with every row of the matrix.
type variantEntry struct {
	place diag.Place
	name  Text
	cells []Setting
	set   []Setting
	each  []axis
}

// axis is one path of a matrix with the values that it takes.
type axis struct {
	path   string
	values []Setting
}

func variants(dst *[]Variant) decode.Form {
	all := variantList{dst: dst, names: map[string]diag.Place{}}
	return decode.List{What: "variants", Each: func() decode.Form {
		e, before := new(variantEntry), 0
		return decode.Then(decode.Before(e.form(), func(r *decode.Reader, n decode.Node) {
			e.place, before = n.Place(), r.List.Len()
		}), func(r *decode.Reader, _ decode.Node) {
			if r.List.Len() == before {
				all.expand(r, e)
			}
		})
	}}
}

func (e *variantEntry) form() decode.Form {
	values := decode.Texts{What: "a mapping of paths such as grids.tray.rows to values", Each: func(path decode.Node) decode.Form {
		return setting(&e.set, path.Text())
	}}
	named := schema.SomeOf("name", "each", "cells")
	return decode.Object{What: "a variant", Check: e.isNamed, Rules: []schema.Rule{named}, Keys: []decode.Key{
		decode.May("name", "What the variant is called; needed unless there is `each` or `cells` to be named after.", decode.Name(&e.name)),
		decode.May("cells", "Cell files, which take the place of the plan's `cell`.", decode.Under(e.cellList(), atLeast(1))),
		decode.May("set", "Values by path, such as `grids.tray.rows`.", values),
		decode.May("each", "Lists of values by path: every value with every other; the last one changes quickest.", e.matrix()),
	}}
}

func (e *variantEntry) isNamed(r *decode.Reader, written decode.Written) {
	if written != nil && !written.Has("name") && !written.Has("cells") && !written.Has("each") {
		r.List.Errorf("missing-key", e.place, "a variant needs \"name\", unless it has \"each\" or \"cells\" to be named after")
	}
}

// atLeast bounds a list from below.
func atLeast(n int) schema.Rule { return schema.With("minItems", n) }

func (e *variantEntry) cellList() decode.Form {
	cells := decode.List{What: "cell files", Each: func() decode.Form {
		var name Text
		return decode.Then(decode.Text(&name), func(_ *decode.Reader, n decode.Node) {
			e.cells = append(e.cells, Setting{Path: "cell", Value: name.V, Place: n.Place()})
		})
	}}
	return decode.Then(cells, func(r *decode.Reader, n decode.Node) {
		if decode.IsList(n) && len(e.cells) == 0 {
			r.List.Errorf("variant-value", n.Place(), "\"cells\" is empty, wanted one cell file or more")
		}
	})
}

// setting reads any value, which is set where a path leads.
func setting(dst *[]Setting, path string) decode.Form {
	return decode.Own(schema.Anything, func(r *decode.Reader, n decode.Node) {
		value, ok := n.Flow()
		if !ok {
			r.List.Errorf("variant-value", n.Place(), "the value for %q is too long to be set from a variant", path)
		}
		*dst = append(*dst, Setting{Path: path, Value: value, Place: n.Place()})
	})
}

// matrix reads a mapping of paths to lists of values.
func (e *variantEntry) matrix() decode.Form {
	axes := decode.Texts{What: "a mapping of paths such as grids.tray.rows to lists of values", Each: e.axis}
	return decode.Under(decode.Then(axes, func(r *decode.Reader, n decode.Node) {
		if decode.IsMap(n) && len(e.each) == 0 {
			r.List.Errorf("variant-value", n.Place(), "\"each\" is empty, wanted one path or more, with its values")
		}
	}), schema.With("minProperties", 1))
}

func (e *variantEntry) axis(path decode.Node) decode.Form {
	a := axis{path: path.Text()}
	values := decode.List{What: "values for " + a.path, Each: func() decode.Form { return setting(&a.values, a.path) }}
	return decode.Under(decode.Then(values, func(r *decode.Reader, n decode.Node) {
		if decode.IsList(n) && len(a.values) == 0 {
			r.List.Errorf("variant-value", n.Place(), "there is no value for %q", a.path)
		}
		e.each = append(e.each, a)
	}), atLeast(1))
}
