package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
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
	return r.variants(root.Child("variants")), !list.HasErrors()
}

// ReadVariants reads a file of variants, or those that stand in some other plan.
func ReadVariants(source Source, list *diag.List, sources *diag.Sources) ([]Variant, bool) {
	r, root, ok := openVariants(source, list, sources)
	if !ok {
		return nil, false
	}
	if root.Child("format").Text() == Format {
		return r.variants(root.Child("variants")), !list.HasErrors()
	}
	var variants []Variant
	r.Object(root, kinds[VariantsFormat],
		decode.FirstLine(VariantsFormat, r.format(VariantsFormat)),
		decode.Must("variants", func(n decode.Node) { variants = r.variants(n) }),
	)
	return variants, !list.HasErrors()
}

// openVariants opens a file that has variants, whatever else it is.
func openVariants(source Source, list *diag.List, sources *diag.Sources) (*reader, decode.Node, bool) {
	r := &reader{decode.Reader{List: list}, sources, map[string]bool{}}
	sources.Add(source.File, source.Data)
	root, ok := decode.File(source.File, source.Data, list)
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

func (r *reader) variants(n decode.Node) []Variant {
	all := variantList{reader: r, names: map[string]diag.Place{}}
	r.Each(n, "variants", func(n decode.Node) {
		if e, ok := r.variantEntry(n); ok {
			all.expand(&e)
		}
	})
	return all.variants
}

func (r *reader) variantEntry(n decode.Node) (variantEntry, bool) {
	e := variantEntry{place: n.Place()}
	before := r.List.Len()
	written := r.Object(n, "a variant",
		decode.May("name", r.Name(&e.name)),
		decode.May("cells", func(n decode.Node) {
			if r.Each(n, "cell files", func(n decode.Node) { e.cells = append(e.cells, r.variantCell(n)) }) && len(e.cells) == 0 {
				r.List.Errorf("variant-value", n.Place(), "\"cells\" is empty, wanted one cell file or more")
			}
		}),
		decode.May("set", func(n decode.Node) { e.set = r.variantSettings(n) }),
		decode.May("each", func(n decode.Node) { e.each = r.axes(n) }),
	)
	if written != nil && !written.Has("name") && !written.Has("cells") && !written.Has("each") {
		r.List.Errorf("missing-key", e.place, "a variant needs \"name\", unless it has \"each\" or \"cells\" to be named after")
	}
	return e, r.List.Len() == before
}

func (r *reader) variantCell(n decode.Node) Setting {
	var name Text
	r.Text(&name)(n)
	return Setting{Path: "cell", Value: name.V, Place: n.Place()}
}

// variantSettings reads a mapping of paths to values.
func (r *reader) variantSettings(n decode.Node) []Setting {
	if !decode.IsMap(n) {
		r.WrongType(n, "a mapping of paths such as grids.tray.rows to values")
		return nil
	}
	var settings []Setting
	for _, e := range n.Entries() {
		settings = append(settings, r.setting(e.Key.Text(), e.Value))
	}
	return settings
}

func (r *reader) setting(path string, n decode.Node) Setting {
	value, ok := n.Flow()
	if !ok {
		r.List.Errorf("variant-value", n.Place(), "the value for %q is too long to be set from a variant", path)
	}
	return Setting{Path: path, Value: value, Place: n.Place()}
}

// axes reads a matrix: a mapping of paths to lists of values.
func (r *reader) axes(n decode.Node) []axis {
	if !decode.IsMap(n) {
		r.WrongType(n, "a mapping of paths such as grids.tray.rows to lists of values")
		return nil
	}
	var axes []axis
	for _, e := range n.Entries() {
		a := axis{path: e.Key.Text()}
		if r.Each(e.Value, "values for "+a.path, func(n decode.Node) { a.values = append(a.values, r.setting(a.path, n)) }) && len(a.values) == 0 {
			r.List.Errorf("variant-value", e.Value.Place(), "there is no value for %q", a.path)
		}
		axes = append(axes, a)
	}
	if len(axes) == 0 {
		r.List.Errorf("variant-value", n.Place(), "\"each\" is empty, wanted one path or more, with its values")
	}
	return axes
}
