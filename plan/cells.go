package plan

import (
	"slices"
	"sync"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Cells keeps the cells that were read from files, for further readings of the same plan. Variants mostly change nothing about
// theirs: read anew for each, it is a tenth of the work of a small one. A cell that is kept is not changed.
type Cells struct{ kept sync.Map } // *keptCell by what the plan says under "cell"

// keptCell is a cell about which nothing was found.
type keptCell struct {
	cell  *Cell
	texts *diag.Sources // of its files
}

// nameOf is by what the cell of a plan is kept; "" for one that stands in the plan, or that a setting changes.
func (c *Cells) nameOf(plan decode.Node, settings []Setting) string {
	if c == nil || slices.ContainsFunc(settings, ofCell) {
		return ""
	}
	return cellNode(plan).Text()
}

// read is what reads a cell, or gives the one that is kept by a name. Open opens its files, and gives what reads it otherwise.
func (c *Cells) read(name string, r *reader, open func() (read func() *Cell)) func() *Cell {
	if name == "" {
		return open()
	}
	if kept, there := c.kept.Load(name); there {
		r.sources.AddAll(kept.(*keptCell).texts)
		return func() *Cell { return kept.(*keptCell).cell }
	}
	texts := new(diag.Sources)
	var read func() *Cell
	found := r.apart(texts, func() { read = open() })
	return func() (cell *Cell) {
		found = r.apart(texts, func() { cell = read() }) || found
		if cell != nil && !found && !r.List.Full() {
			c.kept.Store(name, &keptCell{cell, texts})
		}
		return cell
	}
}

// apart reads something whose texts are kept beside those of all others, and reports whether anything was found.
func (r *reader) apart(texts *diag.Sources, read func()) (found bool) {
	all, before := r.sources, r.List.Len()
	r.sources = texts
	read()
	r.sources = all
	all.AddAll(texts)
	return r.List.Len() > before
}
