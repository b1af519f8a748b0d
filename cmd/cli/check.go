package cli

import (
	"github.com/spf13/cobra"

	"gridferry/gen/move"
)

const checkHelp = `Check proves a plan without writing anything: it reads the plan and its cell,
expands every move, and tells what is wrong, each finding at the line and column
that caused it.

Exit status: 0 when nothing is wrong (warnings do not count), 1 when something
is, 2 for wrong use of the command. "-" reads the plan from standard input.`

func newCheck(s *streams) *cobra.Command {
	var flags planFlags
	var format string
	c := &cobra.Command{
		Use:   "check PLAN",
		Short: "Prove a plan and tell what is wrong with it",
		Long:  checkHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.check(&flags, format, args[0]) },
	}
	flags.add(c)
	c.Flags().StringVar(&format, "format", "text", "findings as text or json")
	return c
}

func (s *streams) check(flags *planFlags, format, file string) error {
	if err := oneOf("--format", format, "text", "json"); err != nil {
		return err
	}
	job, err := flags.read(s, file)
	if err != nil {
		return err
	}
	sound := !job.Findings.HasErrors() && job.Check()
	if err := s.reportAs(format, s.out, job); err != nil {
		return err
	}
	if sound && format == "text" {
		s.say("%s: no error in %s", job.Layout.File, move.Count(job.Moves()))
	}
	return nil
}
