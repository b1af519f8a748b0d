package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/move"
)

const movesHelp = `Moves prints the list that a plan expands to: every move in order, with its
frame, its pose there and in the base, speed, fly_by, signal and the plan line
that caused it. The table is for people: a terminal gets lines cut to its width, a
pipe or a file gets them whole. Csv and jsonl give every column.

The list is shown for any plan that can be resolved, checked or not. "--prove-out"
shows the moves of a first run, "--from N" those of the rest after a stop.`

type movesFlags struct {
	jobFlags
	format string
}

func newMoves(s *streams) *cobra.Command {
	var flags movesFlags
	c := &cobra.Command{
		Use:   "moves PLAN",
		Short: "Print the list of moves",
		Long:  movesHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.moves(&flags, args[0]) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.format, "format", "table", "table, csv or jsonl")
	return c
}

func (s *streams) moves(flags *movesFlags, file string) error {
	if err := oneOf("--format", flags.format, "table", "csv", "jsonl"); err != nil {
		return err
	}
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	if err := s.report(job); err != nil {
		return err
	}
	if isTerminal(s.out) {
		job.Watch = nil // the list itself tells how far it has come
	}
	if err := s.list(job, flags.format); err != nil {
		return failure{err}
	}
	return nil
}

func (s *streams) list(job *gen.Job, format string) error {
	write := map[string]func(io.Writer, move.Batches) error{
		"csv":   move.WriteCSV,
		"jsonl": move.WriteJSONL,
		"table": func(w io.Writer, m move.Batches) error { return move.WriteTable(w, m, s.width()) },
	}[format]
	return write(s.out, job.Batches())
}
