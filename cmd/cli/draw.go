package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/draw"
)

const drawHelp = `Draw writes a picture of a plan as an SVG file: the cell from above and from the
side, to scale, with reach, keep-out boxes, frames, slots with their parts, and
the path with the order of the transfers. A legend explains the signs. Where the
cell says what the arm is, it stands there as a stick figure: where the job
begins, with --transfer at its pick and its place, with --after as it stands
then; not with --grid.

The plan need not pass the check. The picture shows what the plan says, which
may differ from what is in your cell. With --prove-out it shows the prove-out,
lifted and without parts; with --from N the job resumed at transfer N, with the
slots as they are then. See plan/RUNNING.md.

An existing picture by Gridferry is replaced, but no other file. --replace
replaces any file, and keeps the old one as NAME.kept-1.

  gridferry draw mortar-cubes.plan.yaml -o cubes.svg --grid tray`

type drawFlags struct {
	jobFlags
	pageFlags
	draw.Options
	scheme string
}

func newDraw(s *streams) *cobra.Command {
	var flags drawFlags
	c := planCommand("draw PLAN -o FILE.svg|-", "Draw the cell, the grids and the path", drawHelp,
		func(file string) error { return s.draw(&flags, file) })
	flags.jobFlags.add(c)
	flags.pageFlags.add(c)
	c.Flags().IntVar(&flags.Transfer, "transfer", 0, "show only the path of this transfer, counted from 1")
	c.Flags().StringVar(&flags.Grid, "grid", "", "show only this grid, enlarged")
	c.Flags().IntVar(&flags.After, "after", 0, "show the slots after this many transfers")
	c.Flags().BoolVar(&flags.NoPath, "no-path", false, "leave out the path")
	addChoice(c.Flags(), &flags.scheme, "scheme", "colours: light, dark, or auto for those of the reader's screen", "auto", "light", "dark")
	return c
}

var schemes = map[string]draw.Scheme{"auto": draw.Auto, "light": draw.Light, "dark": draw.Dark}

func (s *streams) draw(flags *drawFlags, file string) error {
	if err := gen.Picture.Fits(flags.To); err != nil {
		return err
	}
	flags.Scheme = schemes[flags.scheme]
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	if job.Findings.HasErrors() {
		return s.report(job)
	}
	if err := flags.Validate(job.Layout); err != nil {
		return err
	}
	if err := flags.inRun(); err != nil {
		return err
	}
	return s.page(job, gen.Picture, flags.Output, func(w io.Writer) error { return job.Draw(w, flags.Options) })
}

// inRun refuses transfers that are done before a resumed job begins.
func (f *drawFlags) inRun() error {
	from := f.resumed.Transfer
	switch {
	case f.Transfer > 0 && f.Transfer < from:
		return fmt.Errorf("--transfer is %d, but the resumed job begins with transfer %d", f.Transfer, from)
	case f.After > 0 && f.After < from-1:
		return fmt.Errorf("--after is %d, but the resumed job begins after %d transfers", f.After, from-1)
	}
	return nil
}
