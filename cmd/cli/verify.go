package cli

import (
	"math"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const verifyHelp = `Verify compares a program, such as one from the shop floor, with the plan: it
reads the program by the readings of its family and reports the moves that
differ. The seal shows whether the file was changed since Gridferry wrote it; a
file with other comments still has the same moves. One with other line ends is
different: the controller may end its lines elsewhere.

If the family has no readings, or writes loops, programs are compared line by
line, without comments.

Name all files of a program that has several; - is standard input. For the
program of a prove-out or a resumed job, give --prove-out or --from as it was
written; if they are missing, a message says what the program's head shows.

Equal moves do not make a program safe. Prove it out at reduced speed with a
hand on the emergency stop.

Exit status: 0 equal, 1 different, or not comparable (a plan that does not
pass the check, a program of another family; standard output is empty then), 2 wrong use of the
command.

  gridferry verify programs/mortar-cubes.st --plan mortar-cubes.plan.yaml \
    --family st`

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
	c.Flags().StringVar(&flags.plan, "plan", "", "plan that the program was written from")
	c.Flags().StringVar(&flags.family, "family", "", "name of a shipped family, or folder of a family")
	addFormat(c, &flags.format, "the result", "text", "json")
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
	if !job.Prove() {
		return s.report(job)
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
