package gen

import (
	"fmt"
	"io"
	"slices"

	"gridferry/gen/check"
	"gridferry/gen/family"
	"gridferry/gen/goldens"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// FileKind is one kind of file that people write, or of data that programs read.
type FileKind struct {
	Name, Title string
	form        func() decode.Form
}

// FileKinds lists them all.
var FileKinds = []FileKind{
	{"plan", "plan: what goes from where to where, with its cell or its name", plan.PlanForm},
	{"cell", "cell: what is bolted down and measured", plan.CellForm},
	{"measured", "measured values of a cell, in a separate file", plan.MeasuredForm},
	{"variants", "variants of a plan, in a separate file", plan.VariantsForm},
	{"slots", "slots that hold a part, for a resumed job", plan.SlotsForm},
	{"frame-points", "touched points of a frame, for fit", pointsOf(plan.PointsOfFrame)},
	{"tool-points", "touched points of a tool, for fit", pointsOf(plan.PointsOfTool)},
	{"grid-points", "touched points of a grid, for fit", pointsOf(plan.PointsOfGrid)},
	{"family", "family.yaml: the rules of a family", family.FileForm},
	{"case", "case.yaml: a test case for golden", goldens.CaseForm},
	{"findings", "findings, as check --format json gives them", findingsForm},
}

// findingsForm is a list of findings, and with --slots an object that has it. Nobody reads it here.
func findingsForm() decode.Form {
	return decode.Own(func() schema.Schema { return schema.Or(check.FindingsSchema(), check.SlotsSchema()) }, nil)
}

func pointsOf(kind string) func() decode.Form {
	return func() decode.Form { return plan.PointsForm(kind) }
}

// FileKindNamed finds a kind by its name.
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

// WriteSchema writes the JSON Schema of such files.
func (k *FileKind) WriteSchema(w io.Writer) error {
	return schema.Write(w, "Gridferry "+k.Title, k.form().Schema())
}
