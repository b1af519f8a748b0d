package cli

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/plan/diag"
	"gridferry/templates"
)

const familiesHelp = `A family is a folder of templates and rules that writes the text of one family
of controllers. The shipped ones are part of this program. To make your own,
copy one, edit and try it, and write programs with it:

  gridferry families copy starter my-family
  gridferry families try ./my-family
  gridferry write mortar-cubes.plan.yaml --family ./my-family`

func newFamilies(s *streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "families",
		Short: "List, show, copy and try families",
		Long:  familiesHelp,
		Args:  oneOfTheCommands,
		RunE:  func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(
		&cobra.Command{
			Use: "list", Short: "List the shipped families", Args: arguments(0, 0),
			RunE: func(*cobra.Command, []string) error { return s.listFamilies() },
		},
		&cobra.Command{
			Use: "show NAME|FOLDER", Short: "Print a family's rules and templates", Args: arguments(1, 1), ValidArgs: templates.All(),
			RunE: func(_ *cobra.Command, args []string) error { return s.showFamily(args[0]) },
		},
		&cobra.Command{
			Use: "copy NAME FOLDER", Short: "Copy a shipped family, to edit it", Args: arguments(2, 2), ValidArgs: templates.All(),
			RunE: func(_ *cobra.Command, args []string) error { return s.copyFamily(args[0], args[1]) },
		},
		newTry(s),
		newFields(s),
	)
	return c
}

func (s *streams) listFamilies() error {
	job := new(gen.Job)
	families, err := job.OpenFamilies([]string{"all"})
	if err != nil || job.Findings.HasErrors() {
		return errors.Join(err, s.report(job))
	}
	for _, f := range families.All {
		if _, err := fmt.Fprintf(s.out, "%-10s %-5s %s\n", f.Label, f.Extension, f.Title); err != nil {
			return failure{err}
		}
	}
	return nil
}

// showFamily prints the files of a family that can be read.
func (s *streams) showFamily(name string) error {
	job := new(gen.Job)
	if _, err := job.OpenFamily(name); err != nil {
		return err
	}
	err := visibly(s.out, func(w io.Writer) (err error) {
		for file, text := range job.Sources.All() {
			if err == nil {
				text = strings.TrimRight(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
				_, err = fmt.Fprintf(w, "---- %s\n%s\n", diag.Visible(file), text)
			}
		}
		return err
	})
	if err != nil {
		return failure{err}
	}
	return s.report(job)
}

func (s *streams) copyFamily(name, folder string) error {
	if gen.IsFolder(name) {
		return fmt.Errorf("%q is a folder, wanted the name of a shipped family: %s", name, strings.Join(templates.All(), ", "))
	}
	files, err := gen.ShippedFamily(name)
	if err != nil {
		return err
	}
	said, err := gen.WriteNew(folder, files)
	if err != nil {
		return failure{err}
	}
	s.say(said...)
	if !gen.IsFolder(folder) {
		folder = "./" + folder // a bare name is that of a shipped family
	}
	s.sayf("edit the files, then: gridferry families try %s", folder)
	return nil
}
