package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/out"
	"gridferry/gen/render"
	"gridferry/plan/diag"
	"gridferry/templates"
)

const writeHelp = `Write turns a plan into program text through a family: a shipped one by name, or
a folder of your own. "--family all" writes every shipped one.

The plan is checked first, and what is written is read back and compared with the
list of moves. With an error nothing is written at all. A program that is there is
replaced whole, but only if its seal shows that nobody changed it since Gridferry
wrote it; "--replace" replaces any file and keeps the old one beside it, as
NAME.kept-1. "-o -" writes to standard output.

"--prove-out" writes the program of a first run: at most 250 mm/s (or --speed),
every slot and the point above it lifted by --lift, the gripper left alone unless
--gripper work. "--from N" writes the rest of a job after a stop, from transfer N
on; --holding says that the jaw holds its part already, --slots=FILE what stands
where. Such programs have names of their own. See plan/RUNNING.md.

A program is no proof of safety. Prove it out at reduced speed with a hand on
the emergency stop.`

type writeFlags struct {
	jobFlags
	families []string
	output   string
	format   string
	most     size
	replace  bool
}

// folder is where the programs are made ready; for standard output that is
// the folder of temporary files.
func (f *writeFlags) folder() string {
	if f.output == "-" {
		return os.TempDir()
	}
	return f.output
}

func newWrite(s *streams) *cobra.Command {
	var flags writeFlags
	c := &cobra.Command{
		Use:   "write PLAN --family NAME|FOLDER [-o FOLDER|-]",
		Short: "Write the program of a plan",
		Long:  writeHelp,
		Args:  onePlan,
		RunE:  func(_ *cobra.Command, args []string) error { return s.write(&flags, args[0]) },
	}
	flags.add(c)
	c.Flags().StringSliceVar(&flags.families, "family", nil, "a shipped family's name, a family's folder, or all (several with commas)")
	c.Flags().StringVarP(&flags.output, "output", "o", ".", "the folder to write to, or - for standard output")
	c.Flags().StringVar(&flags.format, "format", "text", "findings as text or json")
	flags.most = render.DefaultBytes
	c.Flags().Var(&flags.most, "max-output", "the most that one program may hold, such as 64MB")
	c.Flags().BoolVar(&flags.replace, "replace", false, "replace a file that was changed by hand, keeping it beside the new one as NAME.kept-1")
	c.MarkFlagRequired("family")
	c.RegisterFlagCompletionFunc("family", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return append(templates.All(), "all"), cobra.ShellCompDirectiveDefault
	})
	return c
}

func (s *streams) write(flags *writeFlags, file string) error {
	if err := oneOf("--format", flags.format, "text", "json"); err != nil {
		return err
	}
	names := familyNames(flags.families)
	if flags.output == "-" && len(names) > 1 {
		return fmt.Errorf("%d families do not fit on one standard output: name one, or a folder with -o", len(names))
	}
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	batch := out.NewBatch()
	defer batch.Discard()
	if err := s.render(job, names, flags, batch); err != nil {
		return err
	}
	if err := s.reportAs(flags.format, s.dataOr(flags.output), job); err != nil {
		return err
	}
	if flags.format == "text" { // as data, standard error may hold nothing else
		s.remark(job)
	}
	return s.finish(batch, flags.output)
}

// dataOr is where findings go as data: standard output, unless the program
// goes there.
func (s *streams) dataOr(output string) io.Writer {
	if output == "-" {
		return s.err
	}
	return s.out
}

// render fills the batch with the plan's programs, as long as nothing is wrong.
func (s *streams) render(job *gen.Job, names []string, flags *writeFlags, batch *out.Batch) error {
	var families []*family.Family
	for _, name := range names {
		f, err := openFamily(job, name)
		if err != nil {
			return err
		}
		families = append(families, f)
	}
	if job.Findings.HasErrors() || !job.Check() {
		return nil
	}
	if flags.output != "-" {
		batch.Spare(out.WasRead(job.Files()...))
	}
	for i, f := range families {
		if !slices.Contains(flags.families, names[i]) && s.leavesOut(job, f) {
			continue
		}
		if !job.CheckFor(f) {
			return nil
		}
		create := func(name string) (io.WriteCloser, error) { return batch.Create(filepath.Join(flags.folder(), name)) }
		before := len(batch.Names())
		if err := job.WriteFiles(create, f, render.Options{MostBytes: int64(flags.most)}); err != nil {
			return failure{err}
		}
		if flags.output == "-" {
			continue
		}
		if err := guard(job, f, batch, batch.Names()[before:], flags.replace); err != nil {
			return failure{err}
		}
	}
	return nil
}

// leavesOut tells whether a family that nobody asked for by name cannot write this
// run, so that the others of "all" are written without it, and says so.
func (s *streams) leavesOut(job *gen.Job, f *family.Family) bool {
	run := job.OtherRun()
	if !f.Loops || run == "" {
		return false
	}
	s.say("left out %s: it writes the loops of a whole job, and this is %s", f.Label, run)
	return true
}

// objections is the list for what speaks against replacing a file; one that nobody reads
// where replacing is asked for, since the file is kept then.
func objections(list *diag.List, replace bool) *diag.List {
	if replace {
		return new(diag.List)
	}
	return list
}

// guard keeps what somebody changed by hand: it is not replaced, or it is kept.
func guard(job *gen.Job, f *family.Family, batch *out.Batch, names []string, replace bool) error {
	findings := objections(&job.Findings, replace)
	for _, name := range names {
		same, err := batch.Same(name)
		if err == nil && !same {
			var may bool
			if may, err = gen.MayReplace(f, name, findings); !may && replace {
				batch.Keep(name)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *streams) finish(batch *out.Batch, output string) error {
	if output == "-" {
		if n := len(batch.Names()); n > 1 {
			return failure{fmt.Errorf("the program comes in %d files, which do not fit on one standard output: name a folder with -o", n)}
		}
		if err := batch.CopyTo(s.out); err != nil {
			return failure{err}
		}
		return nil
	}
	if err := batch.Commit(); err != nil {
		return failure{err}
	}
	for _, name := range batch.Kept() {
		s.say("kept %s", name)
	}
	for _, name := range batch.Names() {
		s.say("wrote %s", name)
	}
	s.sayStrays(batch.Folders()...)
	return nil
}

// sayStrays tells of temporary files that are not of this run.
func (s *streams) sayStrays(folders ...string) {
	for _, stray := range out.Strays(folders...) {
		names, are, them := strings.Join(stray.Names, ", "), "is", "it"
		if n := len(stray.Names); n > 1 {
			are, them = "are", "them"
			if n > 3 {
				names = fmt.Sprintf("%s and %d more", strings.Join(stray.Names[:3], ", "), n-3)
			}
		}
		s.say("in the folder %q: %s %s of a run that was killed, or of one that is at work now: delete %s when no other gridferry runs", stray.Folder, names, are, them)
	}
}

func familyNames(given []string) []string {
	var names []string
	for _, name := range given {
		if name == "all" {
			names = append(names, templates.All()...)
		} else {
			names = append(names, name)
		}
	}
	return names
}
