package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/out"
	"gridferry/gen/render"
	"gridferry/gen/summary"
	"gridferry/plan"
	"gridferry/plan/diag"
)

const varyHelp = `Vary writes the programs of every variant of a plan, each into a folder of its
own, and a table of them all: summary.txt, summary.csv and summary.html.

Variants stand in the plan under "variants:", or in a file of their own that
--variants names: values by name, a matrix of values, the same plan on several
cells. A variant is the plan with its values set, as "--set" does it: its program
is the one that "write" with those settings gives.

A variant with errors is told and the others go on; nothing is written for it.
One whose files could not be written, as on a full disk, is "not written" in the
table. Files that would get the same bytes are left alone. The old table is taken
away before the first program changes, so that it never stands beside programs that
it does not list: after a stop there is none until vary has come to its end.`

type varyFlags struct {
	planFlags
	variants string
	families []string
	output   string
	format   string
	most     size
	replace  bool
}

func newVary(s *streams) *cobra.Command {
	var flags varyFlags
	c := &cobra.Command{
		Use:   "vary PLAN --family NAME|FOLDER -o FOLDER",
		Short: "Write the programs of every variant of a plan",
		Long:  varyHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.vary(&flags, args[0]) },
	}
	flags.add(c)
	c.Flags().StringVar(&flags.variants, "variants", "", "a file of variants, in place of those in the plan")
	c.Flags().StringSliceVar(&flags.families, "family", nil, "a shipped family's name, a family's folder, or all (several with commas)")
	c.Flags().StringVarP(&flags.output, "output", "o", "", "the folder that gets a folder for every variant")
	c.Flags().StringVar(&flags.format, "format", "text", "the table on standard output as text, csv or html")
	flags.most = render.DefaultBytes
	c.Flags().Var(&flags.most, "max-output", "the most that one program may hold, such as 64MB")
	c.Flags().BoolVar(&flags.replace, "replace", false, "replace a file that was changed by hand, keeping it beside the new one as NAME.kept-1")
	c.MarkFlagRequired("family")
	c.MarkFlagRequired("output")
	return c
}

func (s *streams) vary(flags *varyFlags, file string) error {
	if err := oneOf("--format", flags.format, "text", "csv", "html"); err != nil {
		return err
	}
	if flags.output == "-" {
		return errors.New("-o - is standard output, where the folders of variants do not fit: name a folder with -o")
	}
	v, shared, err := s.variation(flags, file)
	if err != nil {
		return err
	}
	read := out.WasRead(append(shared.job.Files(), v.Cells()...)...)
	old, err := s.oldSummary(flags, read)
	if err != nil {
		return err
	}
	progress := s.newBar(len(v.Variants))
	v.Done = progress.step
	v.Write = func(job *gen.Job, variant *plan.Variant) (gen.Programs, error) {
		return writeVariant(job, shared.families, flags, filepath.Join(flags.output, variant.Name), read, old)
	}
	all := v.Run()
	return s.reportVaried(flags, old, &summary.Table{Plan: filepath.Base(v.Source.File), Families: labels(shared.families)}, all)
}

// shared is what all variants have in common beside the plan.
type shared struct {
	job      *gen.Job // what was read for all of them
	families []*family.Family
}

// variation reads what all variants share.
func (s *streams) variation(flags *varyFlags, file string) (*gen.Variation, *shared, error) {
	settings, err := flags.settings()
	if err != nil {
		return nil, nil, err
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return nil, nil, err
	}
	all := &shared{job: new(gen.Job)}
	variants, err := s.variants(flags, source, all.job)
	if err != nil {
		return nil, nil, err
	}
	for _, name := range familyNames(flags.families) {
		f, err := openFamily(all.job, name)
		if err != nil {
			return nil, nil, err
		}
		all.families = append(all.families, f)
	}
	if err := s.report(all.job); err != nil {
		return nil, nil, err
	}
	return &gen.Variation{Source: source, Settings: settings, Options: layout.Options{Slots: flags.limit}, Variants: variants}, all, nil
}

// variants are those of the plan, or of the file that is named in their place.
func (s *streams) variants(flags *varyFlags, of plan.Source, job *gen.Job) ([]plan.Variant, error) {
	read := plan.PlanVariants
	if flags.variants != "" {
		var err error
		if of, err = plan.Open(flags.variants, s.in); err != nil {
			return nil, err
		}
		read = plan.ReadVariants
	}
	variants, _ := read(of, &job.Findings, &job.Sources)
	return variants, nil
}

func labels(families []*family.Family) []string {
	all := make([]string, len(families))
	for i, f := range families {
		all[i] = f.Label
	}
	return all
}

// writeVariant writes a variant's programs into its folder, all of them or none, and
// never over what was read for it or for all.
func writeVariant(job *gen.Job, families []*family.Family, flags *varyFlags, folder string, read out.Read, old *oldSummary) (gen.Programs, error) {
	var done gen.Programs
	batch := out.NewBatch()
	defer batch.Discard()
	batch.Spare(out.WasRead(job.Files()...))
	batch.Spare(read)
	for _, f := range families {
		lines := 0
		create := func(name string) (io.WriteCloser, error) {
			w, err := batch.Create(filepath.Join(folder, name))
			return &lineCounter{w, &lines}, err
		}
		before := len(batch.Names())
		if err := job.WriteFiles(create, f, render.Options{MostBytes: int64(flags.most)}); err != nil {
			return done, err
		}
		if err := guard(job, f, batch, batch.Names()[before:], flags.replace); err != nil {
			return done, err
		}
		done.Lines = append(done.Lines, lines)
	}
	if job.Findings.HasErrors() {
		return done, nil
	}
	changed, err := batch.DropSame()
	if err != nil {
		return done, err
	}
	if done.Changed = changed > 0; !done.Changed {
		return done, nil
	}
	if err := old.takeAway(); err != nil {
		return done, err
	}
	return done, batch.Commit()
}

// lineCounter counts the lines that go into a file.
type lineCounter struct {
	io.WriteCloser
	lines *int
}

// Write counts on the way.
func (c *lineCounter) Write(b []byte) (int, error) {
	*c.lines += bytes.Count(b, []byte("\n"))
	return c.WriteCloser.Write(b)
}

// reportVaried tells what became of the variants: findings, the table, then what could
// not be written. The table is shown first, since a full disk has no room for it.
func (s *streams) reportVaried(flags *varyFlags, old *oldSummary, table *summary.Table, all []gen.Varied) error {
	for i := range all {
		table.Rows = append(table.Rows, all[i].Row)
	}
	if err := s.variedFindings(all); err != nil {
		return failure{err}
	}
	if err := tablesOf(table)[flags.format](s.out); err != nil {
		return failure{err}
	}
	summed := s.writeSummary(old, tablesOf(table.Lasting()), all)
	s.sayStale(flags.output, all)
	s.sayStrays(varied(flags.output, all)...)
	if err := notWritten(all); err != nil {
		return failure{err} // the same disk that has no room for the summary
	}
	if summed != nil {
		return failure{summed}
	}
	return variedVerdict(all)
}

func tablesOf(t *summary.Table) map[string]func(io.Writer) error {
	return map[string]func(io.Writer) error{"text": t.WriteText, "csv": t.WriteCSV, "html": t.WriteHTML}
}

// variedFindings prints what was found, once for all variants that have it.
func (s *streams) variedFindings(all []gen.Varied) error {
	for _, group := range gen.Together(all) {
		shown := group.Findings
		if s.quiet {
			shown = onlyErrors(shown)
		}
		if err := diag.Print(s.err, shown, group.Sources, s.colored()); err != nil {
			return err
		}
	}
	return nil
}

// sayStale names the folders of refused variants that hold programs all the same.
func (s *streams) sayStale(output string, all []gen.Varied) {
	for i := range all {
		folder := filepath.Join(output, all[i].Row.Name)
		if all[i].Row.State != summary.Refused {
			continue
		}
		if held, err := os.ReadDir(folder); err == nil && len(held) > 0 {
			s.say("%s holds files of an earlier run: the variant has errors now", folder)
		}
	}
}

// varied are the folders that the variants were written to, and where that began.
func varied(output string, all []gen.Varied) []string {
	folders := []string{output, filepath.Dir(filepath.Clean(output))}
	for i := range all {
		folders = append(folders, filepath.Join(output, all[i].Row.Name))
	}
	return folders
}

// notWritten is one message for all variants that some trouble outside the plan
// stopped: mostly it is the same for all of them. It is nil where there are none.
func notWritten(all []gen.Varied) error {
	var first *gen.Varied
	more := 0
	for i := range all {
		switch {
		case all[i].Err == nil:
		case first == nil:
			first = &all[i]
		default:
			more++
		}
	}
	switch {
	case first == nil:
		return nil
	case more == 0:
		return fmt.Errorf("the variant %q was not written: %w", first.Row.Name, first.Err)
	}
	return fmt.Errorf("%d variants were not written, the first of them %q: %w", more+1, first.Row.Name, first.Err)
}

// variedVerdict is the status: one variant with errors is enough.
func variedVerdict(all []gen.Varied) error {
	for i := range all {
		if all[i].Row.State == summary.Refused {
			return errFindings
		}
	}
	return nil
}
