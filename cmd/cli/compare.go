package cli

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const compareHelp = `Compare reports in which transfers, positions, orientations, speeds, signals and
waits two jobs differ. Each side is a plan (a name that ends in .yaml, .yml or
.json) or a program, which is read by the readings of its family; - is a program
from standard input. Transfers are matched by source and destination, so an
inserted one does not make all later ones differ; parts carried at once are a
transfer each. Equal differences are reported once.

Two plans are compared move by move, and by the ids of their parts. A plan and a program are compared in what
the program says: rounded as it is, without the fields that it lacks. In
programs of one family lines that are no moves are compared as text. Two
programs with points in frames need --plan if they do not say where the frames
are. For a program of several files use verify.

Neither side is changed. Memory is used for one transfer at a time, and some
sixty bytes for every other. Equal moves do not make a program safe.

Exit status: 0 equal, 1 different, or not comparable (a plan that does not
pass the check, a text that is no program of the family; standard output is
empty then), 2 wrong use of the command, such as a missing file.

  gridferry compare mortar-cubes.plan.yaml programs/mortar-cubes.st --family st`

type compareFlags struct {
	jobFlags
	family, familyB, plan, format string
}

func newCompare(s *streams) *cobra.Command {
	var flags compareFlags
	c := &cobra.Command{
		Use:   "compare A B",
		Short: "Compare two plans or programs",
		Long:  compareHelp,
		Args:  arguments(2, 2),
		RunE:  func(_ *cobra.Command, args []string) error { return s.compare(&flags, args[0], args[1]) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.family, "family", "", "family of programs: name of a shipped one, or folder")
	c.Flags().StringVar(&flags.familyB, "family-b", "", "family of the second program, if it is another one")
	c.Flags().StringVar(&flags.plan, "plan", "", "for two programs: plan with their frames and tools")
	addFormat(c, &flags.format, "the differences", "text", "json")
	return c
}

func (s *streams) compare(flags *compareFlags, a, b string) error {
	if a == "-" && b == "-" {
		return fmt.Errorf("both sides are standard input: name a file for one of them")
	}
	if flags.slots == "-" {
		return fmt.Errorf("--slots is read for each side, and standard input can be read only once: name a file")
	}
	sides, err := s.sides(flags, a, b)
	if err != nil {
		return err
	}
	for _, job := range sides.Jobs() {
		if job.Findings.HasErrors() || !sides.Programs() && !job.Prove() {
			return s.report(job)
		}
	}
	report, err := sides.Run()
	if err == gen.ErrNoReads {
		return err
	}
	if err != nil {
		return failure{err}
	}
	for _, job := range sides.Jobs() {
		if err := s.report(job); err != nil {
			return err
		}
	}
	runs, err := sides.OtherRuns()
	if err != nil {
		return failure{err}
	}
	s.say(runs...)
	for _, e := range report.Controller {
		if !e.Differs { // those that differ are in the report
			s.sayf("to enter at the controller: %s", e.Text)
		}
	}
	return s.comparedInForm(flags.format, writers{"text": report.Print, "json": report.JSON}, report.Equal())
}

// sides opens both files, and the plan with the frames and tools of two programs.
func (s *streams) sides(flags *compareFlags, a, b string) (*gen.Comparison, error) {
	first, err := s.side(flags, a, flags.family)
	if err != nil {
		return nil, err
	}
	second, err := s.side(flags, b, cmp.Or(flags.familyB, flags.family))
	if err != nil {
		return nil, err
	}
	sides := &gen.Comparison{A: first, B: second}
	var tables *gen.Job
	if sides.Programs() && flags.plan != "" {
		if tables, err = flags.read(s, flags.plan); err != nil {
			return nil, err
		}
	}
	sides.ShareTables(tables)
	return sides, nil
}

// side opens one of the files.
func (s *streams) side(flags *compareFlags, file, family string) (*gen.Compared, error) {
	if gen.IsPlan(file) {
		job, err := flags.open(s, file)
		return &gen.Compared{Name: file, Job: job}, err
	}
	if family == "" {
		return nil, fmt.Errorf("%s is a program: name its family with --family", file)
	}
	return gen.OpenCompared(file, family, s.in)
}
