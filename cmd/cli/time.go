package cli

import (
	"io"

	"github.com/spf13/cobra"
)

const timeHelp = `Time estimates how long a plan takes: in all, by kind of move, by leg, and for
the slowest motions. It also says what 10 % more or less of speed, acceleration,
settling and approach would change, and what the estimate assumes and leaves
out.

It needs machine.acceleration in the cell to be of use; machine.jerk and
machine.rotation improve it. CSV has a line for every transfer. With --prove-out
the times are those of the prove-out, with --from N those of the job resumed at
transfer N.

  gridferry time mortar-cubes.plan.yaml`

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
