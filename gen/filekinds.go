package gen

import (
	"fmt"
	"io"
	"slices"

	"gridferry/gen/family"
	"gridferry/gen/goldens"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// FileKind is one kind of file that people write.
type FileKind struct {
	Name, Title string
	form        func() decode.Form
}

// FileKinds are all of them.
var FileKinds = []FileKind{
	{"plan", "plan: what is to be moved, its cell in place or by name", plan.PlanForm},
	{"cell", "cell: what is bolted down and measured", plan.CellForm},
	{"measured", "measured values of a cell, in a file of their own", plan.MeasuredForm},
	{"variants", "variants of a plan, in a file of their own", plan.VariantsForm},
	{"slots", "slots: what stands where, for the rest of a job", plan.SlotsForm},
	{"frame-points", "touched points of a frame, for fit", pointsOf(plan.PointsOfFrame)},
	{"tool-points", "touched points of a tool, for fit", pointsOf(plan.PointsOfTool)},
	{"grid-points", "touched points of a grid, for fit", pointsOf(plan.PointsOfGrid)},
	{"family", "family.yaml: the rules of a family", family.FileForm},
	{"case", "case.yaml: a recorded case of a team's own", goldens.CaseForm},
}

func pointsOf(kind string) func() decode.Form {
	return func() decode.Form { return plan.PointsForm(kind) }
}

// FileKindNamed is the kind of a name.
func FileKindNamed(name string) (*FileKind, error) {
	if i := slices.IndexFunc(FileKinds, func(k FileKind) bool { return k.Name == name }); i >= 0 {
		return &FileKinds[i], nil
	}
	var names []string
	for _, k := range FileKinds {
		names = append(names, k.Name)
	}
	return nil, fmt.Errorf("there is no schema %q: %s", name, diag.Meant(name, names))
}

// WriteSchema writes the form of such files as JSON Schema.
func (k *FileKind) WriteSchema(w io.Writer) error {
	return schema.Write(w, "Gridferry "+k.Title, k.form().Schema())
}
