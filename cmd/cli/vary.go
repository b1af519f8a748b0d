package cli

import (
	"errors"
	"path/filepath"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/summary"
	"gridferry/plan"
)

const varyHelp = `Vary writes the programs of all variants of a plan, each variant into a folder
of its own, and a table of them as summary.txt, summary.csv and summary.html.

Variants are values by name, a matrix of values, or several cells. They are in
the plan under "variants:", or in the file of --variants. Each is the plan with
its values set as by --set, and its program is what "write" gives with the same
--set.

A variant with errors is reported and not written; the others go on. "not
written" in the table is a variant whose files could not be written, as on a
full disk. Files that would not change are left alone. The old table is removed
before the first program changes, so that it never lists programs that are no
longer there.

Several processes or computers share the variants with --shard. In which shard
a variant is depends on its name and on how many shards there are. Each has a
folder of its own below that of -o, and may be run again. --merge makes one
table of theirs.

  gridferry vary mortar-cubes.plan.yaml --variants mortar-cubes.variants.yaml \
    --family st -o programs`

type varyFlags struct {
	planFlags
	programFlags
	variants, format string
	shard            gen.Shard
	merge            bool
}

func newVary(s *streams) *cobra.Command {
	var flags varyFlags
	c := planCommand("vary PLAN --family NAME|FOLDER -o FOLDER", "Write the programs of all variants of a plan", varyHelp,
		func(file string) error { return s.vary(&flags, file) })
	flags.planFlags.add(c)
	flags.programFlags.add(c, "", "folder for the folders of the variants")
	c.Flags().StringVar(&flags.variants, "variants", "", "file of variants, used instead of those in the plan")
	addFormat(c, &flags.format, "the table on standard output", "text", "csv", "html")
	c.Flags().Var(&shardFlag{&flags.shard}, "shard", "only this shard of the variants, such as 3/16, into a folder of its own below that of -o")
	c.Flags().BoolVar(&flags.merge, "merge", false, "write the table of all variants from those of the shards in the folder of -o")
	c.MarkFlagRequired("output")
	c.Flags().Lookup("family").Annotations = map[string][]string{neededWithout: {"merge"}}
	return c
}

// shardFlag is a flag with a shard.
type shardFlag struct{ shard *gen.Shard }

// String is the shard as given.
func (f *shardFlag) String() string {
	if f.shard == nil || f.shard.Of == 0 {
		return ""
	}
	return f.shard.String()
}

// Set reads it.
func (f *shardFlag) Set(text string) (err error) {
	if *f.shard, err = gen.ReadShard(text); err != nil {
		return wanted(err.Error())
	}
	return nil
}

// Type is the name of the value in the help.
func (f *shardFlag) Type() string { return "string" }

func (s *streams) vary(flags *varyFlags, file string) error {
	if flags.To == gen.Stdout {
		return errors.New("-o - is standard output, and vary writes folders: name a folder with -o")
	}
	if flags.merge {
		return s.merge(flags, file)
	}
	if flags.shard.Of > 0 {
		flags.To = filepath.Join(flags.To, flags.shard.Folder())
	}
	v, folders, err := s.variation(flags, file)
	if folders != nil {
		defer folders.Close()
	}
	if err != nil {
		return err
	}
	v.Write, v.Done = folders.Write, s.newBar(len(v.Variants)).step
	all := v.Run()
	return s.reportVaried(folders, folders.TableOf(v.Source.File, all), flags.format, all)
}

// variation reads what all variants share, locks their folders, and looks for old tables.
func (s *streams) variation(flags *varyFlags, file string) (*gen.Variation, *gen.Folders, error) {
	settings, err := flags.settings()
	if err != nil {
		return nil, nil, err
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return nil, nil, err
	}
	shared := new(gen.Job)
	variants, err := s.variants(flags, source, shared)
	if err != nil {
		return nil, nil, err
	}
	families, err := shared.OpenFamilies(flags.families)
	if err != nil {
		return nil, nil, err
	}
	source.VariantsKnown = flags.variants == "" // those of the plan were not looked at otherwise
	v := &gen.Variation{Source: source, Settings: settings, Options: layout.Options{Slots: flags.limit}, Variants: flags.shard.Take(variants)}
	v.Bound(&shared.Findings)
	if err := s.report(shared); err != nil {
		return nil, nil, err
	}
	folders := &gen.Folders{Output: flags.Output, Families: families.All, MostBytes: int64(flags.most), Missing: setMissing}
	there := new(gen.Job)
	if err := folders.Open(append(shared.Sources.Names(), v.Cells()...), &there.Findings); err != nil {
		return nil, folders, failure{err}
	}
	return v, folders, s.report(there)
}

// variants are those of the plan, or of the file that is used instead.
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

// merge makes one table of those of the shards.
func (s *streams) merge(flags *varyFlags, file string) error {
	if flags.shard.Of > 0 {
		return oneAlone([]string{"--shard", "--merge"})
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return err
	}
	job := new(gen.Job)
	variants, err := s.variants(flags, source, job)
	if err == nil {
		err = s.report(job)
	}
	if err != nil {
		return err
	}
	table, err := gen.MergeTables(flags.To, file, variants, &job.Findings) // before a folder that nobody wrote to is made
	if err != nil {
		return failure{err}
	}
	folders := &gen.Folders{Output: flags.Output, Missing: setMissing}
	defer folders.Close()
	if !job.Findings.HasErrors() {
		if err := folders.Open(job.Sources.Names(), &job.Findings); err != nil {
			return failure{err}
		}
	}
	if err := s.report(job); err != nil {
		return err
	}
	return s.reportVaried(folders, table, flags.format, nil)
}

// reportVaried prints findings and the table before the table is written, since that may
// fail on a full disk. It is written all the same where nobody reads what is printed: the
// old one is gone, and the programs are there. A table that was merged has no variants beside it.
func (s *streams) reportVaried(folders *gen.Folders, table *summary.Table, format string, all []gen.Varied) error {
	printed := s.printVaried(table, format, all)
	kept, summed := folders.WriteTables(table, gen.WasRead(all)...)
	s.say(kept...)
	s.say(folders.Leftovers(all)...)
	if err := gen.NotWritten(all); err != nil {
		return failure{err} // the same disk that has no room for the summary
	}
	if summed != nil {
		return failure{summed}
	}
	if printed == nil && table.Has(summary.NotWritten, summary.Refused) {
		return errFindings
	}
	return printed
}

func (s *streams) printVaried(table *summary.Table, format string, all []gen.Varied) error {
	for _, group := range gen.Together(all) {
		if err := s.print(group.Findings, group.Sources); err != nil {
			return failure{err}
		}
	}
	return s.inForm(format, writers{"text": table.WriteText, "csv": table.WriteCSV, "html": table.WriteHTML})
}
