package layout_test

import (
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// bench is the head of a plan with one tool, the frame f and the part p, up to its grids.
const bench = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {f: {at: [300, 0, 0]}}
parts: {p: {mass: 0.1}}
grids:
`

// resolve is the layout of a plan's text, with what was found on the way.
func resolve(text string) (*layout.Layout, *diag.List) {
	var list diag.List
	p := plan.Read(plan.Source{File: "p", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources))
	return layout.Resolve(p, layout.Options{}, &list), &list
}
