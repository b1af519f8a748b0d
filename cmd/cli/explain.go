package cli

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/explain"
	"gridferry/gen/family"
)

const explainHelp = `Explain shows which line of the plan made which moves, which moves made which
lines of the program, and why.

Without a line it explains the whole program, with repeats folded. For a line of
the plan or the cell it shows the moves that depend on it; for a line of the
program, the move that made it, its reason, and where its figures come from.

--format html writes a page that needs no network and no other file. --format
json writes one object with "moves"; if no move depends on the line, "why_none"
says why. With --prove-out or --from N it explains the program that "write"
gives with the same flags, line by line.

  gridferry explain mortar-cubes.plan.yaml --family st --program-line 29`

type explainFlags struct {
	jobFlags
	family string
	format string
	query  explain.Query
}

func newExplain(s *streams) *cobra.Command {
	var flags explainFlags
	c := planCommand("explain PLAN [--plan-line N | --cell-line N | --program-line N]", "Explain every move and every program line", explainHelp,
		func(file string) error { return s.explain(&flags, file) })
	flags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "family of the program: name of a shipped one, or folder")
	addFormat(c, &flags.format, "the answer", "text", "json", "html")
	c.Flags().IntVar(&flags.query.PlanLine, "plan-line", 0, "show what depends on this line of the plan")
	c.Flags().IntVar(&flags.query.CellLine, "cell-line", 0, "show what depends on this line of the cell")
	c.Flags().IntVar(&flags.query.ProgramLine, "program-line", 0, "show why this line of the program is there")
	c.MarkFlagsMutuallyExclusive("plan-line", "cell-line", "program-line")
	c.PreRunE = func(c *cobra.Command, _ []string) error { return oneLine(c, "plan-line", "cell-line", "program-line") }
	return c
}

// oneLine refuses line 0 and several lines.
func oneLine(c *cobra.Command, names ...string) error {
	var given []string
	for _, name := range names {
		if !c.Flags().Changed(name) {
			continue
		}
		if n, err := c.Flags().GetInt(name); err == nil && n < 1 {
			return fmt.Errorf("--%s is %d, wanted 1 or more", name, n)
		}
		given = append(given, "--"+name)
	}
	return oneAlone(given)
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

// explainFailed makes a failure of an error while writing; a line that does not exist is
// wrong use.
func explainFailed(err error) error {
	if outside := (*explain.OutsideError)(nil); errors.As(err, &outside) {
		return err
	}
	return failed(err)
}

// textWidth is the terminal's width; 100 if standard output is none.
func (s *streams) textWidth() int {
	if w := s.width(); w > 0 {
		return w
	}
	return 100
}
