package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/render"
	"gridferry/templates"
)

const writeHelp = `Write checks a plan and writes its program, in the text of one or more families:
shipped ones by name, your own by folder, or all shipped ones with "--family
all".

Every program is read back and compared with the list of moves. If there are
errors, nothing is written. An existing program is replaced only if its seal
shows that nobody changed it since Gridferry wrote it. --replace replaces any
file, and keeps the old one as NAME.kept-1. "-o -" writes to standard output.

--prove-out writes the prove-out: at most a quarter of the speeds and --speed,
slots and approach points lifted by --lift, the gripper still unless --gripper
work.
--from N writes the job resumed at transfer N; --holding says that the gripper
holds its part already, --slots=FILE which slots hold a part. Such programs have
file names of their own. See plan/RUNNING.md.

A program is no proof of safety. Prove it out at reduced speed with a hand on
the emergency stop.

  gridferry write mortar-cubes.plan.yaml --family listing,st -o programs`

// programFlags say which programs to write, and where.
type programFlags struct {
	gen.Output
	families []string
	most     size
}

func (f *programFlags) add(c *cobra.Command, to, usage string) {
	c.Flags().StringSliceVar(&f.families, "family", nil, "name of a shipped family, folder of a family, or all (several with commas)")
	c.Flags().StringVarP(&f.To, "output", "o", to, usage)
	c.Flags().BoolVar(&f.Replace, "replace", false, "replace files that were changed by hand; keep them as NAME.kept-1")
	f.most = render.DefaultBytes
	c.Flags().Var(&f.most, "max-output", "bound on the size of one program, such as 64MB")
	c.MarkFlagRequired("family")
	c.RegisterFlagCompletionFunc("family", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return append(templates.All(), "all"), cobra.ShellCompDirectiveDefault
	})
}

type writeFlags struct {
	jobFlags
	programFlags
	format string
}

func newWrite(s *streams) *cobra.Command {
	var flags writeFlags
	c := planCommand("write PLAN --family NAME|FOLDER [-o FOLDER|-]", "Write the program of a plan", writeHelp,
		func(file string) error { return s.write(&flags, file) })
	flags.jobFlags.add(c)
	flags.programFlags.add(c, ".", "folder to write to, or - for standard output")
	addFormat(c, &flags.format, "findings", "text", "json")
	return c
}

func (s *streams) write(flags *writeFlags, file string) error {
	if n := len(gen.FamilyNames(flags.families)); flags.To == gen.Stdout && n > 1 {
		return fmt.Errorf("found %d families, and standard output takes one: name one family, or a folder with -o", n)
	}
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	families, err := job.OpenFamilies(flags.families)
	if err != nil {
		return err
	}
	d, err := job.Programs(families, flags.Output, int64(flags.most))
	defer d.Discard()
	s.say(d.Skipped...)
	if err != nil {
		return failure{err}
	}
	data := s.out
	if flags.To == gen.Stdout {
		data = s.err // the program goes there
	}
	if err := s.reportAs(flags.format, data, job); err != nil {
		return err
	}
	if flags.format == "text" { // with json, standard error holds nothing else
		s.say(job.LeftBehind()...)
		for _, f := range families.All {
			for _, entry := range job.ToEnter(f) {
				s.sayf("to enter at the controller (%s): %s", f.Label, entry)
			}
		}
	}
	return s.finish(d)
}
