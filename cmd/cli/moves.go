package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen/move"
)

const movesHelp = `Moves prints the list that a plan expands to: every move in order, with its
frame, its pose there and in the base, speed, fly_by, signal and the plan line
that caused it. The table is for people: a terminal gets lines cut to its width, a
pipe or a file gets them whole. Csv and jsonl give every column.

The list is shown for any plan that can be resolved, checked or not. "--prove-out"
shows the moves of a first run, "--from N" those of the rest after a stop.`

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
		"csv":   func(w io.Writer) error { return move.WriteCSV(w, job.Batches()) },
		"jsonl": func(w io.Writer) error { return move.WriteJSONL(w, job.Batches()) },
		"table": func(w io.Writer) error { return move.WriteTable(w, job.Batches(), s.width()) },
	})
}
