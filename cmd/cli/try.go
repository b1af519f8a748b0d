package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const tryHelp = `Try shows what a family makes of a plan: without PLAN, of a small one that comes
with Gridferry and asks for every kind of move. Mistakes in the family come
first, at file, line and column; then nothing has run. Standard output gets the
text, standard error what became of each block. Nothing is written to disk.`

func newTry(s *streams) *cobra.Command {
	var flags planFlags
	var format string
	c := &cobra.Command{
		Use: "try FOLDER|NAME [PLAN]", Short: "Show what a family makes of a plan", Long: tryHelp, Args: arguments(1, 2),
		RunE: func(_ *cobra.Command, args []string) error { return s.try(&flags, format, args[0], args[1:]) },
	}
	flags.add(c)
	addFormat(c, &format, "what comes out", "text", "json")
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
	if err := s.showTrial(format, &trial); err != nil {
		return failure{err}
	}
	return s.report(job)
}

func (s *streams) showTrial(format string, trial *gen.Trial) error {
	if format == "json" {
		return trial.JSON(s.out)
	}
	if !s.quiet {
		defer trial.PrintBlocks(s.err)
	}
	_, err := io.WriteString(s.out, trial.Text)
	return err
}

const fieldsHelp = `Fields prints every field that each block gets, or those of one BLOCK: its name,
what it is, which rule in family.yaml fills it where that depends, and what it holds.`

func newFields(s *streams) *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "fields [BLOCK]", Short: "Print what each block gets", Long: fieldsHelp, Args: arguments(0, 1),
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
