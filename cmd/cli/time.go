package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/family"
)

const timeHelp = `Time estimates how long a plan takes: in all, by kind of move, by leg, and for
the slowest motions. It also says what 10 % more or less of speed, acceleration,
settling and approach would change, and what the estimate assumes and leaves
out.

It needs machine.acceleration in the cell to be of use; machine.jerk and
machine.rotation improve it. Where the cell says what the arm is, each joint has
its speed and acceleration, and those that limit motions are named. CSV has a
line for every transfer. With --prove-out the times are those of the prove-out,
with --from N those of the job resumed at transfer N. With --family the times
are those of the program as this family writes it: some stop at every point, or
turn an axis by whole turns.

  gridferry time mortar-cubes.plan.yaml`

func newTime(s *streams) *cobra.Command {
	var flags jobFlags
	var family, format string
	c := planCommand("time PLAN", "Estimate how long a plan takes", timeHelp,
		func(file string) error { return s.time(&flags, family, format, file) })
	flags.add(c)
	c.Flags().StringVar(&family, "family", "", "the program's family: name of a shipped one, or folder (default: the plan's own times)")
	addFormat(c, &format, "the times", "table", "csv", "json")
	return c
}

func (s *streams) time(flags *jobFlags, name, format, file string) error {
	job, f, err := flags.soundWith(s, file, name)
	if err != nil {
		return err
	}
	return s.inForm(format, writers{
		"csv":   func(w io.Writer) error { return job.TimeCSV(w, f) },
		"json":  func(w io.Writer) error { return job.Time(f).WriteJSON(w, job.Layout.File) },
		"table": func(w io.Writer) error { return job.Time(f).WriteTable(w, job.Layout.File) },
	})
}

// soundWith opens a plan and, where one is named, a family, and reports what it finds.
func (f *jobFlags) soundWith(s *streams, file, name string) (*gen.Job, *family.Family, error) {
	if name == "" {
		job, err := f.sound(s, file)
		return job, nil, err
	}
	job, one, err := f.openWith(s, file, name)
	if err == nil {
		err = s.report(job)
	}
	return job, one, err
}
