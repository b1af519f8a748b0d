package cli

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen/sheet"
)

const sheetHelp = `Sheet writes the job sheet of a plan for the shop floor: one HTML page that says
what the job does, what to fear, who checks and signs what before the first run,
which points to touch, tools, loads, signals, what stands where before and after,
the time, the warnings and a picture; on a screen it steps through the moves,
with the lines of plan and program that say each.

The page needs no network and no other file, works without scripts, and prints on
A4 and Letter. The plan is checked first; while there is an error no sheet is
written. "--prove-out" makes the sheet of a first run, "--from N" that of the rest
after a stop, with what has to stand where then. A sheet is no proof of safety.

A sheet that is there is replaced, and no other file; "--replace" replaces any and
keeps the old one beside it, as NAME.kept-1.`

// jobSheet is the kind of file that sheet writes.
var jobSheet = beginning("sheet", sheet.Head, ".html", ".htm")

type sheetFlags struct {
	jobFlags
	pageFlags
	family string
}

func newSheet(s *streams) *cobra.Command {
	var flags sheetFlags
	c := &cobra.Command{
		Use:   "sheet PLAN -o FILE.html|-",
		Short: "Write the job sheet: what to touch, check, sign and fear",
		Long:  sheetHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.sheet(&flags, args[0]) },
	}
	flags.jobFlags.add(c)
	flags.pageFlags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "the family whose program lines are shown: a shipped name or a folder")
	return c
}

func (s *streams) sheet(flags *sheetFlags, file string) error {
	if flags.family == "all" {
		return errors.New("--family is \"all\", wanted the one family whose program is shown")
	}
	if err := flags.fits(jobSheet); err != nil {
		return err
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
	return flags.write(s, job, jobSheet, func(w io.Writer) error {
		_, err := job.Sheet(w, f) // with an error among the findings the page is thrown away
		return err
	})
}
