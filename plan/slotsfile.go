package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// SlotsFormat is the first line of a file that says what stands where.
const SlotsFormat = "gridferry slots 1"

// Found says what somebody found standing in the grids: after a stop, for
// instance. A grid that is not named was not looked at.
type Found struct {
	Place          diag.Place
	Grids          []FoundGrid
	Removed, Added Whole // parts that people took away or put in since the job began
}

// FoundGrid is one grid, with the words of "filled".
type FoundGrid struct {
	Name   Text
	Filled Filled
}

// ReadFound decodes a file of slots. What is wrong goes to list.
func ReadFound(source Source, list *diag.List, sources *diag.Sources) *Found {
	r := &reader{Reader: decode.Reader{List: list}, sources: sources, given: map[string]bool{}}
	f := &Found{Place: diag.Place{File: source.File}}
	root, ok := r.file(source.File, source.Data)
	if !ok {
		return f
	}
	f.form().Read(&r.Reader, root)
	return f
}

func (f *Found) form() decode.Form {
	grids := decode.Table{What: "what stands in the grids", Of: "grids", Each: func(name Text) decode.Form {
		f.Grids = append(f.Grids, FoundGrid{Name: name})
		return filled(&f.Grids[len(f.Grids)-1].Filled)
	}}
	return decode.Object{What: "a file of slots", Keys: []decode.Key{
		decode.FirstLine(SlotsFormat, "file of slots"),
		decode.Must("filled", "What stands in the grids, by name: `all`, `none`, or slots such as `A1:B6`; a grid that is not named was not looked at.",
			decode.At(&f.Place, grids)),
		decode.May("removed", "Parts that people took away since the job began.", decode.Whole(&f.Removed, 0, mostSlots)).Default(0),
		decode.May("added", "Parts that people put in since the job began.", decode.Whole(&f.Added, 0, mostSlots)).Default(0),
	}}
}
