package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/draw"
)

const drawHelp = `Draw makes a picture of a plan as an SVG file: the cell from above and from the
side, to scale, with the reach, the keep-out boxes, the frames' axes, what every
slot holds, and the path with its order numbers. A legend explains the signs.

The picture is made for any plan that can be resolved, checked or not. It shows
what the plan says, not what stands in your cell. "--prove-out" draws a first run,
lifted and without parts; "--from N" the rest after a stop, with what has to stand
where before it. See plan/RUNNING.md.

A picture that is there is replaced, and no other file; "--replace" replaces any
and keeps the old one beside it, as NAME.kept-1.`

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
	c.Flags().IntVar(&flags.Transfer, "transfer", 0, "show the path of this transfer alone, counted from 1")
	c.Flags().StringVar(&flags.Grid, "grid", "", "show this grid alone, as large as it goes")
	c.Flags().IntVar(&flags.After, "after", 0, "show what stands where after this many transfers")
	c.Flags().BoolVar(&flags.NoPath, "no-path", false, "leave the path out")
	addChoice(c.Flags(), &flags.scheme, "scheme", "light, dark, or auto: as the reader's screen is set", "auto", "light", "dark")
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

// inRun refuses what is over when the rest begins.
func (f *drawFlags) inRun() error {
	from := f.rest.Transfer
	switch {
	case f.Transfer > 0 && f.Transfer < from:
		return fmt.Errorf("--transfer is %d, but the rest begins with transfer %d", f.Transfer, from)
	case f.After > 0 && f.After < from-1:
		return fmt.Errorf("--after is %d, but the rest begins after %d transfers", f.After, from-1)
	}
	return nil
}
