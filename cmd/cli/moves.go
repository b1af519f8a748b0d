package cli

import (
	"io"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/move"
)

const movesHelp = `Moves prints the list that a plan expands to: every move in order, with its
frame, its pose there and in the base, speed, blend, signal and the plan line
that caused it. The table is for people; csv and jsonl give every column.

The list is shown for any plan that can be resolved, checked or not.`

func newMoves(s *streams) *cobra.Command {
	var flags planFlags
	var format string
	c := &cobra.Command{
		Use:   "moves PLAN",
		Short: "Print the list of moves",
		Long:  movesHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.moves(&flags, format, args[0]) },
	}
	flags.add(c)
	c.Flags().StringVar(&format, "format", "table", "table, csv or jsonl")
	return c
}

func (s *streams) moves(flags *planFlags, format, file string) error {
	if err := oneOf("--format", format, "table", "csv", "jsonl"); err != nil {
		return err
	}
	job, err := flags.read(s, file)
	if err != nil {
		return err
	}
	if err := s.report(job); err != nil {
		return err
	}
	if err := s.list(job, format); err != nil {
		return failure{err}
	}
	return nil
}

func (s *streams) list(job *gen.Job, format string) error {
	write := map[string]func(io.Writer, move.Seq) error{
		"csv":   move.WriteCSV,
		"jsonl": move.WriteJSONL,
		"table": func(w io.Writer, m move.Seq) error { return move.WriteTable(w, m, s.width()) },
	}[format]
	return write(s.out, job.Moves())
}
