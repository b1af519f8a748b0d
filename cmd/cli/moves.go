package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen/move"
)

const movesHelp = `Moves prints the list that a plan expands to: every move in order, with its
frame, its pose in that frame and in the base, speed, fly-by radius, signal, and
the plan line that it comes from. The table is cut to the width of a terminal,
but not in a pipe or a file. CSV and JSON lines (jsonl) have all columns.

The plan need not pass the check. With --prove-out the moves are those of the
prove-out, with --from N those of the job resumed at transfer N.

  gridferry moves mortar-cubes.plan.yaml --format csv`

func newMoves(s *streams) *cobra.Command {
	var flags jobFlags
	var format string
	c := planCommand("moves PLAN", "Print the list of moves", movesHelp,
		func(file string) error { return s.moves(&flags, format, file) })
	flags.add(c)
	addFormat(c, &format, "the list", "table", "csv", "jsonl")
	return c
}

func (s *streams) moves(flags *jobFlags, format, file string) error {
	job, err := flags.sound(s, file)
	if err != nil {
		return err
	}
	s.shows(job)
	return s.inForm(format, writers{
		"csv":   func(w io.Writer) error { return move.WriteCSV(w, job.JointCount(), job.Batches()) },
		"jsonl": func(w io.Writer) error { return move.WriteJSONL(w, job.JointCount(), job.Batches()) },
		"table": func(w io.Writer) error { return move.WriteTable(w, job.Batches(), s.width()) },
	})
}
