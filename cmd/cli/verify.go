package cli

import (
	"math"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const verifyHelp = `Verify compares a program, for instance one from the shop floor, with what the
plan gives: it reads the program by what the family says about its own lines,
lays it beside the move list, and tells move by move what differs. The seal tells
whether somebody changed the file since Gridferry wrote it; a file whose comments
alone were changed still has the same moves.

A family that does not say how its lines read, or that writes loops, has its
program compared line by line, without the remarks.

Of a program in several files, name them all. "-" reads standard input.

The program of a first run, or of the rest of a job, is compared with --prove-out
or --from as it was written; without them one line says what its head says it is.

The same moves do not make a program safe. Prove it out at reduced speed with a
hand on the emergency stop.

Exit status: 0 the same, 1 different, or not to be compared (a plan with errors, a
program of another family: standard output stays empty then), 2 wrong use.`

type verifyFlags struct {
	jobFlags
	plan, family, format string
}

func newVerify(s *streams) *cobra.Command {
	var flags verifyFlags
	c := &cobra.Command{
		Use:   "verify PROGRAM... --plan PLAN --family NAME|FOLDER",
		Short: "Compare a program with its plan",
		Long:  verifyHelp,
		Args:  arguments(1, math.MaxInt),
		RunE:  func(_ *cobra.Command, args []string) error { return s.verify(&flags, args) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.plan, "plan", "", "the plan that the program was written from")
	c.Flags().StringVar(&flags.family, "family", "", "a shipped family's name or a family's folder")
	addFormat(c, &flags.format, "the verdict", "text", "json")
	c.MarkFlagRequired("plan")
	c.MarkFlagRequired("family")
	return c
}

func (s *streams) verify(flags *verifyFlags, names []string) error {
	files, closeAll, err := gen.OpenPrograms(names, s.in)
	defer closeAll()
	if err != nil {
		return err
	}
	job, family, err := flags.openWith(s, flags.plan, flags.family)
	if err != nil {
		return err
	}
	verdict, err := job.Verify(family, files)
	if err != nil {
		return failure{err}
	}
	if err := s.report(job); err != nil {
		return err
	}
	return s.comparedInForm(flags.format, writers{"text": verdict.Print, "json": verdict.JSON}, verdict.Same())
}
