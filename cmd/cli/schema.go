package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen/family"
	"gridferry/gen/goldens"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/schema"
)

const schemaHelp = `Schema prints the form of one kind of file as JSON Schema (draft 2020-12), the open
standard that editors with YAML support go by: they complete keys and words then,
show what a key means, and mark mistakes while you type. Keep the output in a file
and point your editor's YAML support at it:

  gridferry schema plan > plan.schema.json

What FORM can be:

`

// form is one kind of file that people write.
type form struct {
	name, title string
	form        func() decode.Form
}

var forms = []form{
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

func newSchema(s *streams) *cobra.Command {
	var words []cobra.Completion
	var help strings.Builder
	help.WriteString(schemaHelp)
	for _, f := range forms {
		words = append(words, cobra.CompletionWithDesc(f.name, f.title))
		fmt.Fprintf(&help, "  %-12s  %s\n", f.name, f.title)
	}
	return &cobra.Command{
		Use:       "schema FORM",
		Short:     "Print the form of a file, for editors",
		Long:      strings.TrimSuffix(help.String(), "\n"),
		Args:      arguments(1, 1),
		ValidArgs: words,
		RunE:      func(_ *cobra.Command, args []string) error { return s.printSchema(args[0]) },
	}
}

func (s *streams) printSchema(name string) error {
	i := slices.IndexFunc(forms, func(f form) bool { return f.name == name })
	if i < 0 {
		return unknownForm(name)
	}
	if err := schema.Write(s.out, "Gridferry "+forms[i].title, forms[i].form().Schema()); err != nil {
		return failure{err}
	}
	return nil
}

func unknownForm(name string) error {
	var names []string
	for _, f := range forms {
		names = append(names, f.name)
	}
	return fmt.Errorf("there is no schema %q: %s", name, amongThese(name, names))
}
