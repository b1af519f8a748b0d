package cli

import (
	"io"

	"github.com/spf13/cobra"
)

const timeHelp = `Time estimates how long a plan takes: the whole, every kind of move, every leg,
the slowest motions, and what 10 % more or less of speed, acceleration, settling
and approach would do. What the estimate rests on and what it leaves out is told
with it.

It needs machine.acceleration in the cell to say anything of use; machine.jerk
and machine.rotation make it better. "--format csv" gives a line for every
transfer. "--prove-out" tells how long a first run takes, "--from N" the rest of a
job after a stop.`

func newTime(s *streams) *cobra.Command {
	var flags jobFlags
	var format string
	c := planCommand("time PLAN", "Estimate how long a plan takes", timeHelp,
		func(file string) error { return s.time(&flags, format, file) })
	flags.add(c)
	addFormat(c, &format, "the times", "table", "csv", "json")
	return c
}

func (s *streams) time(flags *jobFlags, format, file string) error {
	job, err := flags.sound(s, file)
	if err != nil {
		return err
	}
	return s.inForm(format, writers{
		"csv":   job.TimeCSV,
		"json":  func(w io.Writer) error { return job.Time().WriteJSON(w, job.Layout.File) },
		"table": func(w io.Writer) error { return job.Time().WriteTable(w, job.Layout.File) },
	})
}
