package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const sheetHelp = `Sheet checks a plan and writes its job sheet: one HTML page for the shop floor.
It lists what the job does, hazards, checks and signatures before the prove-out,
points to touch, tools, loads, signals, slots before and after, times and
warnings, with a picture. On a screen checks can be ticked, touched points typed
in and compared, slots tapped after a stop, and the moves seen in three
dimensions, beside their lines in plan and program.

The page needs no network and no other file, works without scripts, and prints
on A4 and Letter. If there are errors, nothing is written. With --prove-out it
is the sheet of the prove-out, with --from N that of the job resumed at transfer
N. A sheet is no proof of safety.

An existing sheet by Gridferry is replaced, but no other file. --replace
replaces any file, and keeps the old one as NAME.kept-1.

  gridferry sheet mortar-cubes.plan.yaml -o cubes.html --family st`

type sheetFlags struct {
	jobFlags
	pageFlags
	family string
}

func newSheet(s *streams) *cobra.Command {
	var flags sheetFlags
	c := planCommand("sheet PLAN -o FILE.html|-", "Write the job sheet for the shop floor", sheetHelp,
		func(file string) error { return s.sheet(&flags, file) })
	flags.jobFlags.add(c)
	flags.pageFlags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "family of the program lines: name of a shipped one, or folder")
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
		_, err := job.Sheet(w, f) // if there are errors, the page is not written
		return err
	})
}
