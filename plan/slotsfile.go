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
	r := &reader{decode.Reader{List: list}, sources, map[string]bool{}}
	sources.Add(source.File, source.Data)
	f := &Found{Place: diag.Place{File: source.File}}
	root, ok := decode.File(source.File, source.Data, list)
	if !ok {
		return f
	}
	r.Object(root, "a file of slots",
		decode.FirstLine(SlotsFormat, r.format(SlotsFormat)),
		decode.Must("filled", func(n decode.Node) {
			f.Place = n.Place()
			r.Table(n, "what stands in the grids", func(name Text, n decode.Node) {
				g := FoundGrid{Name: name}
				r.filled(n, &g.Filled)
				f.Grids = append(f.Grids, g)
			})
		}),
		decode.May("removed", r.Whole(&f.Removed, 0, mostSlots)),
		decode.May("added", r.Whole(&f.Added, 0, mostSlots)),
	)
	return f
}
