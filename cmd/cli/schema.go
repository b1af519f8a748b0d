package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const schemaHelp = `Schema prints the JSON Schema (draft 2020-12, an open standard) of one kind of
file. Editors with YAML support use it to complete keys and words, to show what
a key means, and to mark mistakes as you type. Save the output and name the file
in your editor's settings:

  gridferry schema plan > plan.schema.json

FORM is one of:

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
		Short:     "Print a JSON Schema, for editors",
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
