package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

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
	c.Flags().StringVar(&flags.format, "format", "text", "text or json")
	return c
}

func (s *streams) compare(flags *compareFlags, a, b string) error {
	if err := oneOf("--format", flags.format, "text", "json"); err != nil {
		return err
	}
	if a == "-" && b == "-" {
		return fmt.Errorf("standard input is one program, and two are asked for")
	}
	if flags.slots == "-" {
		return fmt.Errorf("--slots is read for each side, and standard input can be read once: name a file")
	}
	familyB := flags.familyB
	if familyB == "" {
		familyB = flags.family
	}
	first, err := s.side(flags, a, flags.family)
	if err != nil {
		return err
	}
	second, err := s.side(flags, b, familyB)
	if err != nil {
		return err
	}
	if err := s.tables(flags, first, second); err != nil {
		return err
	}
	jobs := jobsOf(first, second)
	for _, job := range jobs {
		if job.Findings.HasErrors() {
			return s.report(job)
		}
	}
	report, err := gen.Compare(*first, *second)
	if err == gen.ErrNoReads {
		return err
	}
	if err != nil {
		return failure{err}
	}
	for _, job := range jobs {
		if err := s.report(job); err != nil {
			return err
		}
	}
	if err := s.sayRuns(first, second); err != nil {
		return failure{err}
	}
	print := report.Print
	if flags.format == "json" {
		print = report.JSON
	}
	if err := print(s.out); err != nil {
		return failure{err}
	}
	if !report.Equal() {
		return errFindings
	}
	return nil
}

// sayRuns tells of two programs of different runs that they are, before all that follows
// from it.
func (s *streams) sayRuns(a, b *gen.Compared) error {
	first, err := a.HeadSays()
	if err != nil {
		return err
	}
	second, err := b.HeadSays()
	if err != nil || a.Open == nil || b.Open == nil || first == second {
		return err
	}
	for _, side := range []struct{ name, says string }{{a.Name, first}, {b.Name, second}} {
		if side.says != "" {
			s.say("%s: its head says that it is %s, unlike the other one", side.name, side.says)
		}
	}
	return nil
}

// side opens one of the two files.
func (s *streams) side(flags *compareFlags, file, family string) (*gen.Compared, error) {
	side := &gen.Compared{Name: file, Job: new(gen.Job)}
	var err error
	if isPlan(file) {
		side.Job, err = flags.open(s, file)
		return side, err
	}
	if family == "" {
		return nil, fmt.Errorf("%s is a program: name its family with --family", file)
	}
	if side.Family, err = openFamily(side.Job, family); err != nil {
		return nil, err
	}
	side.Open = func() (io.ReadCloser, error) { return os.Open(file) }
	if file == "-" {
		data, err := io.ReadAll(s.in)
		if err != nil {
			return nil, failure{err}
		}
		side.Name = "<stdin>"
		side.Open = func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(data)), nil }
		return side, nil
	}
	info, err := os.Stat(file)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no plain file", file)
	}
	return side, nil
}

func isPlan(file string) bool {
	switch strings.ToLower(filepath.Ext(file)) {
	case ".yaml", ".yml", ".json":
		return true
	}
	return false
}

// tables gives a program the names and frames of the plan that it is compared with,
// or of the one that is named for that.
func (s *streams) tables(flags *compareFlags, a, b *gen.Compared) error {
	job := (*gen.Job)(nil)
	switch {
	case a.Open == nil:
		job = a.Job
	case b.Open == nil:
		job = b.Job
	case flags.plan != "":
		var err error
		if job, err = flags.read(s, flags.plan); err != nil {
			return err
		}
	}
	for _, side := range []*gen.Compared{a, b} {
		if side.Open != nil && !side.Job.Findings.HasErrors() {
			side.Job = job
		}
	}
	return nil
}

// jobsOf is every job that has findings to tell, once.
func jobsOf(a, b *gen.Compared) []*gen.Job {
	var jobs []*gen.Job
	for _, side := range []*gen.Compared{a, b} {
		if side.Job != nil && (len(jobs) == 0 || jobs[0] != side.Job) {
			jobs = append(jobs, side.Job)
		}
	}
	return jobs
}
