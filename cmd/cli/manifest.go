package cli

import (
	"errors"
	"io"

	"github.com/spf13/cobra"
)

const manifestHelp = `Manifest says who ends where: a line for every part that moves, in the order of
their last transfers, with the slot that it comes from, the slot that it ends
in, those where it stood meanwhile, the last transfer, and when it is put down
there, in seconds from the start, estimated as by "time". Waits for inputs and
for people are not in these seconds.

CSV has the columns id, part, from, to, via, transfer and placed_at. An id that
a spreadsheet would take for a formula has an apostrophe in front.

With --from N the manifest is that of the job resumed at transfer N: "from" is
where a part stands then. That of a variant is the manifest with the variant's
values as --set. It says what the plan asks for, not what was done; of a plan
that does not pass the check there is none.

  gridferry manifest mortar-cubes.plan.yaml > who-is-where.csv`

func newManifest(s *streams) *cobra.Command {
	var flags jobFlags
	var family, format string
	c := planCommand("manifest PLAN", "Say which part ends where", manifestHelp,
		func(file string) error { return s.manifest(&flags, family, format, file) })
	flags.add(c)
	c.Flags().StringVar(&family, "family", "", "the program's family, for its times: name of a shipped one, or folder (default: the plan's own times)")
	addFormat(c, &format, "the lines", "csv", "json")
	return c
}

func (s *streams) manifest(flags *jobFlags, name, format, file string) error {
	if run, err := flags.run(); err == nil && run.ProveOut != nil && run.ProveOut.Empty() {
		return errors.New("a prove-out carries no part anywhere: leave --prove-out out, or say --gripper work --lift 0")
	}
	job, f, err := flags.soundWith(s, file, name)
	if err != nil {
		return err
	}
	if !job.Prove() {
		return s.report(job)
	}
	return s.inForm(format, writers{
		"csv":  func(w io.Writer) error { return job.Manifest(f).WriteCSV(w) },
		"json": func(w io.Writer) error { return job.Manifest(f).WriteJSON(w, job.Layout.File) },
	})
}
