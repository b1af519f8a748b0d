package cli

import (
	"github.com/spf13/cobra"

	"gridferry/gen"
)

const timeHelp = `Time estimates how long a plan takes: the whole, every kind of move, every leg,
the slowest motions, and what 10 % more or less of speed, acceleration, settling
and approach would do. What the estimate rests on and what it leaves out is told
with it.

It needs machine.acceleration in the cell to say anything of use; machine.jerk
and machine.rotation make it better. "--format csv" gives a line for every
transfer. "--prove-out" tells how long a first run takes, "--from N" the rest of a
job after a stop.`

type timeFlags struct {
	jobFlags
	format string
}

func newTime(s *streams) *cobra.Command {
	var flags timeFlags
	c := &cobra.Command{
		Use:   "time PLAN",
		Short: "Estimate how long a plan takes",
		Long:  timeHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.time(&flags, args[0]) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.format, "format", "table", "table, csv or json")
	return c
}

func (s *streams) time(flags *timeFlags, file string) error {
	if err := oneOf("--format", flags.format, "table", "csv", "json"); err != nil {
		return err
	}
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	if err := s.report(job); err != nil {
		return err
	}
	if err := s.timed(job, flags.format); err != nil {
		return failure{err}
	}
	return nil
}

func (s *streams) timed(job *gen.Job, format string) error {
	switch format {
	case "csv":
		return job.TimeCSV(s.out)
	case "json":
		return job.Time().WriteJSON(s.out, job.Layout.File)
	default:
		return job.Time().WriteTable(s.out, job.Layout.File)
	}
}
