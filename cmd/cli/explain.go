package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/explain"
	"gridferry/gen/family"
)

const explainHelp = `Explain is the lesson: which line of the plan made which moves, which moves made
which lines of the program, and why each of them is there.

Without a line it goes through everything, with repeats folded. With a line of
the plan or the cell it shows the moves that rest on it; with a line of the
program, the move that made it, the reason, and what its figures rest on.

The page of --format html stands alone: no network, no other file. "--prove-out"
explains the program of a first run, "--from N" that of the rest after a stop: line
numbers of a program are those of the one that "write" gives with the same flags.

"--format json" gives one object with "moves"; where none rests on the line that was
asked about, "why_none" says why.`

type explainFlags struct {
	jobFlags
	family string
	format string
	query  explain.Query
}

func newExplain(s *streams) *cobra.Command {
	var flags explainFlags
	c := &cobra.Command{
		Use:   "explain PLAN [--plan-line N | --cell-line N | --program-line N]",
		Short: "Tell why every move and every program line is there",
		Long:  explainHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.explain(&flags, args[0]) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "the family whose program is explained: a shipped name or a folder")
	c.Flags().StringVar(&flags.format, "format", "text", "text, json or html")
	c.Flags().IntVar(&flags.query.PlanLine, "plan-line", 0, "what rests on this line of the plan")
	c.Flags().IntVar(&flags.query.CellLine, "cell-line", 0, "what rests on this line of the cell")
	c.Flags().IntVar(&flags.query.ProgramLine, "program-line", 0, "why this line of the program is there")
	c.MarkFlagsMutuallyExclusive("plan-line", "cell-line", "program-line")
	c.PreRunE = func(c *cobra.Command, _ []string) error { return oneLine(c, "plan-line", "cell-line", "program-line") }
	return c
}

// oneLine refuses a line 0 that somebody wrote, and more lines than one.
func oneLine(c *cobra.Command, names ...string) error {
	var given []string
	for _, name := range names {
		if !c.Flags().Changed(name) {
			continue
		}
		if n, err := c.Flags().GetInt(name); err == nil && n < 1 {
			return fmt.Errorf("--%s is %d, wanted a line from 1", name, n)
		}
		given = append(given, "--"+name)
	}
	if len(given) > 1 {
		return fmt.Errorf("%s do not go together: name one line", strings.Join(given, " and "))
	}
	return nil
}

func (s *streams) explain(flags *explainFlags, file string) error {
	if err := oneOf("--format", flags.format, "text", "json", "html"); err != nil {
		return err
	}
	if flags.family == "all" {
		return errors.New("--family is \"all\", wanted the one family whose program is explained")
	}
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	f, err := openFamily(job, flags.family)
	if err != nil {
		return err
	}
	if job.Findings.HasErrors() {
		return s.report(job)
	}
	if err := s.explained(job, f, flags); err != nil {
		return err
	}
	return s.report(job)
}

func (s *streams) explained(job *gen.Job, f *family.Family, flags *explainFlags) error {
	var outside *explain.OutsideError
	if flags.format == "json" {
		if isTerminal(s.out) {
			job.Watch = nil // what comes out tells how far it has come
		}
		err := job.ExplainJSON(s.out, f, flags.query)
		return asFailure(err, &outside)
	}
	report, err := job.Explain(f, flags.query)
	if err != nil {
		return asFailure(err, &outside)
	}
	if flags.format == "html" {
		return asFailure(report.HTML(s.out), &outside)
	}
	return asFailure(report.Text(s.out, s.textWidth()), &outside)
}

// asFailure is trouble while writing, but for a line that is not there, which is
// wrong use.
func asFailure(err error, outside **explain.OutsideError) error {
	if err == nil || errors.As(err, outside) {
		return err
	}
	return failure{err}
}

// textWidth is the terminal's width, and 100 where standard output is none.
func (s *streams) textWidth() int {
	if w := s.width(); w > 0 {
		return w
	}
	return 100
}
