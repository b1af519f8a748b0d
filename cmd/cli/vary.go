package cli

import (
	"errors"

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

  gridferry vary mortar-cubes.plan.yaml --variants mortar-cubes.variants.yaml \
    --family st -o programs`

type varyFlags struct {
	planFlags
	programFlags
	variants, format string
}

func newVary(s *streams) *cobra.Command {
	var flags varyFlags
	c := planCommand("vary PLAN --family NAME|FOLDER -o FOLDER", "Write the programs of all variants of a plan", varyHelp,
		func(file string) error { return s.vary(&flags, file) })
	flags.planFlags.add(c)
	flags.programFlags.add(c, "", "folder for the folders of the variants")
	c.Flags().StringVar(&flags.variants, "variants", "", "file of variants, used instead of those in the plan")
	addFormat(c, &flags.format, "the table on standard output", "text", "csv", "html")
	c.MarkFlagRequired("output")
	return c
}

func (s *streams) vary(flags *varyFlags, file string) error {
	if flags.To == gen.Stdout {
		return errors.New("-o - is standard output, and vary writes folders: name a folder with -o")
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
	v := &gen.Variation{Source: source, Settings: settings, Options: layout.Options{Slots: flags.limit}, Variants: variants}
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

// reportVaried prints findings and the table before the table is written, since that may
// fail on a full disk. It is written all the same where nobody reads what is printed: the
// old one is gone, and the programs are there.
func (s *streams) reportVaried(folders *gen.Folders, table *summary.Table, format string, all []gen.Varied) error {
	printed := s.printVaried(table, format, all)
	kept, summed := folders.WriteTables(table, all)
	s.say(kept...)
	s.say(folders.Leftovers(all)...)
	if err := gen.NotWritten(all); err != nil {
		return failure{err} // the same disk that has no room for the summary
	}
	if summed != nil {
		return failure{summed}
	}
	if printed == nil && gen.Refused(all) {
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
