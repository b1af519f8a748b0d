package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const schemaHelp = `Schema prints the form of one kind of file as JSON Schema (draft 2020-12), the open
standard that editors with YAML support go by: they complete keys and words then,
show what a key means, and mark mistakes while you type. Keep the output in a file
and point your editor's YAML support at it:

  gridferry schema plan > plan.schema.json

What FORM can be:

`

func newSchema(s *streams) *cobra.Command {
	var words []cobra.Completion
	var help strings.Builder
	help.WriteString(schemaHelp)
	for _, f := range gen.FileKinds {
		words = append(words, cobra.CompletionWithDesc(f.Name, f.Title))
		fmt.Fprintf(&help, "  %-12s  %s\n", f.Name, f.Title)
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
	kind, err := gen.FileKindNamed(name)
	if err != nil {
		return err
	}
	return failed(kind.WriteSchema(s.out))
}
