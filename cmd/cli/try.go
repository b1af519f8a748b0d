package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const tryHelp = `Try writes the program of PLAN with a family, or that of a small plan that has
every kind of move. The program goes to standard output; standard error gets
mistakes in the family with file, line and column, and the use of each block. No
files are written.

  gridferry families try ./my-family`

func newTry(s *streams) *cobra.Command {
	var flags planFlags
	var format string
	c := &cobra.Command{
		Use: "try FOLDER|NAME [PLAN]", Short: "Try a family on a plan", Long: tryHelp, Args: arguments(1, 2),
		RunE: func(_ *cobra.Command, args []string) error { return s.try(&flags, format, args[0], args[1:]) },
	}
	flags.add(c)
	addFormat(c, &format, "the result", "text", "json")
	return c
}

func (s *streams) try(flags *planFlags, format, name string, plans []string) error {
	job := new(gen.Job)
	if len(plans) == 1 {
		var err error
		if job, err = flags.read(s, plans[0]); err != nil {
			return err
		}
	} else {
		job.ReadTryPlan()
	}
	f, err := job.OpenFamily(name)
	if err != nil {
		return err
	}
	var trial gen.Trial
	if !job.Findings.HasErrors() {
		if trial, err = job.Try(f, len(plans) == 0); err != nil {
			return failure{err}
		}
	}
	if err := s.showTrial(format, &trial, job.Findings.HasErrors()); err != nil {
		return failure{err}
	}
	return s.report(job)
}

// showTrial writes a sound program as "write -o -" does; one with mistakes is only to be read.
func (s *streams) showTrial(format string, trial *gen.Trial, wrong bool) error {
	if format == "json" {
		return trial.JSON(s.out)
	}
	if !s.quiet {
		defer visibly(s.err, func(w io.Writer) error { trial.PrintBlocks(w); return nil })
	}
	program := func(w io.Writer) error { _, err := io.WriteString(w, trial.Text); return err }
	if wrong {
		return visibly(s.out, program)
	}
	return program(s.out)
}

const fieldsHelp = `Fields lists the fields of every block, or of one BLOCK: name, type, the rule in
family.yaml that a field depends on, if any, and what it holds.

  gridferry families fields straight`

func newFields(s *streams) *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "fields [BLOCK]", Short: "List the fields of blocks", Long: fieldsHelp, Args: arguments(0, 1),
		RunE: func(_ *cobra.Command, args []string) error { return s.fields(append(args, "")[0], format) },
	}
	addFormat(c, &format, "the fields", "table", "json")
	return c
}

func (s *streams) fields(block, format string) error {
	fields, err := gen.FieldsOf(block)
	if err != nil {
		return err
	}
	return s.inForm(format, writers{"table": fields.Print, "json": fields.JSON})
}
