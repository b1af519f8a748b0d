package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
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

type sheetFlags struct {
	jobFlags
	pageFlags
	family string
}

func newSheet(s *streams) *cobra.Command {
	var flags sheetFlags
	c := planCommand("sheet PLAN -o FILE.html|-", "Write the job sheet: what to touch, check, sign and fear", sheetHelp,
		func(file string) error { return s.sheet(&flags, file) })
	flags.jobFlags.add(c)
	flags.pageFlags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "the family whose program lines are shown: a shipped name or a folder")
	return c
}

func (s *streams) sheet(flags *sheetFlags, file string) error {
	if err := gen.JobSheet.Fits(flags.To); err != nil {
		return err
	}
	job, f, err := flags.openWith(s, file, flags.family)
	if err != nil {
		return err
	}
	return s.page(job, gen.JobSheet, flags.Output, func(w io.Writer) error {
		_, err := job.Sheet(w, f) // with an error among the findings the page is thrown away
		return err
	})
}
