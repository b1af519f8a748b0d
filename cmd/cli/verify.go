package cli

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"

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
	c.Flags().StringVar(&flags.format, "format", "text", "text or json")
	c.MarkFlagRequired("plan")
	c.MarkFlagRequired("family")
	return c
}

func (s *streams) verify(flags *verifyFlags, names []string) error {
	if err := oneOf("--format", flags.format, "text", "json"); err != nil {
		return err
	}
	files, closeAll, err := s.programs(names)
	defer closeAll()
	if err != nil {
		return err
	}
	job, err := flags.open(s, flags.plan)
	if err != nil {
		return err
	}
	family, err := openFamily(job, flags.family)
	if err != nil {
		return err
	}
	if job.Findings.HasErrors() {
		return s.report(job)
	}
	verdict, err := job.Verify(family, files)
	if err != nil {
		return failure{err}
	}
	if err := s.report(job); err != nil {
		return err
	}
	return s.tell(verdict, flags.format)
}

func (s *streams) tell(v *gen.Verdict, format string) error {
	print := v.Print
	if format == "json" {
		print = v.JSON
	}
	if err := print(s.out); err != nil {
		return failure{err}
	}
	if !v.Same() {
		return errFindings
	}
	return nil
}

// programs opens the files of a program.
func (s *streams) programs(names []string) ([]gen.ProgramFile, func(), error) {
	var files []gen.ProgramFile
	var open []io.Closer
	closeAll := func() {
		for _, c := range open {
			c.Close()
		}
	}
	for _, name := range names {
		if name == "-" {
			data, err := io.ReadAll(s.in)
			if err != nil {
				return nil, closeAll, err
			}
			files = append(files, gen.ProgramFile{Name: "<stdin>", Text: bytes.NewReader(data)})
			continue
		}
		f, err := os.Open(name)
		if err != nil {
			return nil, closeAll, err
		}
		open = append(open, f)
		if info, err := f.Stat(); err == nil && !info.Mode().IsRegular() {
			return nil, closeAll, fmt.Errorf("%s is no plain file", name)
		}
		files = append(files, gen.ProgramFile{Name: name, Text: f})
	}
	return files, closeAll, nil
}
