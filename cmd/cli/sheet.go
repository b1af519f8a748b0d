package cli

import (
	"errors"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/out"
)

const sheetHelp = `Sheet writes the job sheet of a plan for the shop floor: one HTML page that says
what the job does, what to fear, who checks and signs what before the first run,
which points to touch, tools, loads, signals, what stands where before and after,
the time, the warnings and a picture; on a screen it steps through the moves,
with the lines of plan and program that say each.

The page needs no network and no other file, works without scripts, and prints on
A4 and Letter. The plan is checked first; while there is an error no sheet is
written. "--prove-out" makes the sheet of a first run, "--from N" that of the rest
after a stop, with what has to stand where then. A sheet is no proof of safety.`

type sheetFlags struct {
	jobFlags
	family string
	output string
}

func newSheet(s *streams) *cobra.Command {
	var flags sheetFlags
	c := &cobra.Command{
		Use:   "sheet PLAN -o FILE.html|-",
		Short: "Write the job sheet: what to touch, check, sign and fear",
		Long:  sheetHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.sheet(&flags, args[0]) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.family, "family", "listing", "the family whose program lines are shown: a shipped name or a folder")
	c.Flags().StringVarP(&flags.output, "output", "o", "", "the file to write, or - for standard output")
	c.MarkFlagRequired("output")
	return c
}

func (s *streams) sheet(flags *sheetFlags, file string) error {
	if flags.family == "all" {
		return errors.New("--family is \"all\", wanted the one family whose program is shown")
	}
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	f, err := openFamily(job, flags.family)
	if err != nil {
		return err
	}
	if job.Findings.HasErrors() {
		return s.report(job)
	}
	batch := out.NewBatch()
	defer batch.Discard()
	if err := s.sheetInto(batch, job, f, flags); err != nil {
		return failure{err}
	}
	if err := s.report(job); err != nil {
		return err
	}
	return s.finish(batch, flags.output)
}

// sheetInto makes the page ready; with an error among the findings it is thrown
// away.
func (s *streams) sheetInto(batch *out.Batch, job *gen.Job, f *family.Family, flags *sheetFlags) error {
	name := flags.output
	if name == "-" {
		name = filepath.Join(os.TempDir(), "sheet.html") // staged there, then copied
	}
	return batch.Add(name, func(w io.Writer) error {
		_, err := job.Sheet(w, f)
		return err
	})
}
