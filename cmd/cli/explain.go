package cli

import (
	"errors"
	"fmt"
	"io"
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
	c := planCommand("explain PLAN [--plan-line N | --cell-line N | --program-line N]", "Tell why every move and every program line is there", explainHelp,
		func(file string) error { return s.explain(&flags, file) })
	flags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "the family whose program is explained: a shipped name or a folder")
	addFormat(c, &flags.format, "the answer", "text", "json", "html")
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
	job, f, err := flags.openWith(s, file, flags.family)
	if err != nil {
		return err
	}
	if err := s.explained(job, f, flags); err != nil {
		return err
	}
	return s.report(job)
}

func (s *streams) explained(job *gen.Job, f *family.Family, flags *explainFlags) error {
	if flags.format == "json" {
		s.shows(job)
		return explainFailed(job.ExplainJSON(s.out, f, flags.query))
	}
	report, err := job.Explain(f, flags.query)
	if err != nil {
		return explainFailed(err)
	}
	return s.inForm(flags.format, writers{
		"html": report.HTML,
		"text": func(w io.Writer) error { return report.Text(w, s.textWidth()) },
	})
}

// explainFailed is trouble while writing, but for a line that is not there, which is
// wrong use.
func explainFailed(err error) error {
	if outside := (*explain.OutsideError)(nil); errors.As(err, &outside) {
		return err
	}
	return failed(err)
}

// textWidth is the terminal's width, and 100 where standard output is none.
func (s *streams) textWidth() int {
	if w := s.width(); w > 0 {
		return w
	}
	return 100
}
