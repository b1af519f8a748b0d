package cli

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const compareHelp = `Compare tells in what two jobs differ: which transfers, positions, turns, speeds,
signals and waits. Each side is a plan (its name ends in .yaml, .yml or .json) or a
program, read by what its family says about its own lines; "-" is a program from
standard input. Transfers are laid beside each other by where the part comes from
and goes to, so that one that was put in does not make all after it differ, and
what differs alike is told once.

Two plans are compared move by move. A plan beside a program is compared in what the
program tells: rounded as it is, without the fields that it has no words for. Two
programs of a family that writes points in frames need --plan, where the program
does not tell the frames itself. Of a program in several files, use verify.

Both files stay where they are: a transfer at a time is held, and some sixty bytes
of every other. The same moves do not make a program safe.

Exit status: 0 the same, 1 different, or not to be compared (a plan with errors, a
text that is no program of the family: standard output stays empty then), 2 wrong
use, such as a file that is not there.`

type compareFlags struct {
	jobFlags
	family, familyB, plan, format string
}

func newCompare(s *streams) *cobra.Command {
	var flags compareFlags
	c := &cobra.Command{
		Use:   "compare A B",
		Short: "Tell in what two plans, or programs, differ",
		Long:  compareHelp,
		Args:  arguments(2, 2),
		RunE:  func(_ *cobra.Command, args []string) error { return s.compare(&flags, args[0], args[1]) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.family, "family", "", "of programs: a shipped family's name or a family's folder")
	c.Flags().StringVar(&flags.familyB, "family-b", "", "of the second program, where it is another family")
	c.Flags().StringVar(&flags.plan, "plan", "", "of two programs: a plan whose cell tells frames and tools")
	addFormat(c, &flags.format, "the differences", "text", "json")
	return c
}

func (s *streams) compare(flags *compareFlags, a, b string) error {
	if a == "-" && b == "-" {
		return fmt.Errorf("standard input is one program, and two are asked for")
	}
	if flags.slots == "-" {
		return fmt.Errorf("--slots is read for each side, and standard input can be read once: name a file")
	}
	sides, err := s.sides(flags, a, b)
	if err != nil {
		return err
	}
	for _, job := range sides.Jobs() {
		if job.Findings.HasErrors() {
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
	return s.comparedInForm(flags.format, writers{"text": report.Print, "json": report.JSON}, report.Equal())
}

// sides opens the two files, and the plan that tells frames and tools of two programs.
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

// side opens one of the two files.
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
