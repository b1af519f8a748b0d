package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/render"
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

// programFlags say which programs are written, and where to.
type programFlags struct {
	gen.Output
	families []string
	most     size
}

func (f *programFlags) add(c *cobra.Command, to, usage string) {
	c.Flags().StringSliceVar(&f.families, "family", nil, "a shipped family's name, a family's folder, or all (several with commas)")
	c.Flags().StringVarP(&f.To, "output", "o", to, usage)
	c.Flags().BoolVar(&f.Replace, "replace", false, "replace a file that was changed by hand, keeping it beside the new one as NAME.kept-1")
	f.most = render.DefaultBytes
	c.Flags().Var(&f.most, "max-output", "the most that one program may hold, such as 64MB")
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
	flags.programFlags.add(c, ".", "the folder to write to, or - for standard output")
	addFormat(c, &flags.format, "findings", "text", "json")
	return c
}

func (s *streams) write(flags *writeFlags, file string) error {
	if n := len(gen.FamilyNames(flags.families)); flags.To == gen.Stdout && n > 1 {
		return fmt.Errorf("%d families do not fit on one standard output: name one, or a folder with -o", n)
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
	s.say(d.Notes...)
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
	if flags.format == "text" { // as data, standard error may hold nothing else
		s.say(job.Remarks()...)
	}
	return s.finish(d)
}
