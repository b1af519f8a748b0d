package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/check"
)

const checkHelp = `Check reads a plan and its cell, expands every move, and reports errors and
warnings, each with its line and column, its rule and a hint. It writes no
files. Behind "no error" it says what it did not look at, and why: each part of
that line goes as the cell says more. Of a stack of boxes it says how many lie in a
layer, how the layers rest on each other, and how high and how heavy it is.

PLAN is a file, or - for standard input. A folder, or FOLDER/..., stands for all
plans in it and below (*.plan.yaml, *.plan.yml, *.plan.json), without hidden
folders and node_modules. Several plans are checked side by side, with one table
of them, one list of findings and one exit status.

--format json gives the findings as data ("gridferry schema findings" has its
form), sarif as SARIF 2.1.0 for code hosts and editors, github as annotations of
GitHub Actions.

--slots also draws every grid before the first move and after the last, with the
transfers that change each slot; with --format json the output is one object
with "findings", "not_looked_at", "stacks" and "grids". --rules prints the page
of every finding there is, and needs no PLAN; "gridferry help rule NAME" prints
one of them.

With --prove-out the prove-out is checked: slow, lifted, without parts. With
--from N the job is resumed at transfer N, with the slots as they are then, or
as a file says (--slots=FILE). See plan/RUNNING.md.

Exit status: 0 no errors (warnings do
not count), 1 errors, 2 wrong use of the command.

  gridferry check mortar-cubes.plan.yaml --slots
  gridferry check ./... --format github`

type checkFlags struct {
	jobFlags
	format string
	rules  bool
}

// drawSlots is the value of --slots without a file.
const drawSlots = "draw"

func newCheck(s *streams) *cobra.Command {
	var flags checkFlags
	c := &cobra.Command{
		Use:   "check PLAN|FOLDER...",
		Short: "Check plans and report what is wrong",
		Long:  checkHelp,
		Args: func(c *cobra.Command, args []string) error {
			switch {
			case !flags.rules && !flags.many(args):
				return onePlan(c, args)
			case flags.rules && len(args) > 0:
				return fmt.Errorf("--rules takes no PLAN, found %q", args[0])
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if flags.rules {
				return s.rules(flags.format)
			}
			if flags.many(args) {
				return s.checkPlans(&flags, args)
			}
			return s.check(&flags, args[0])
		},
	}
	flags.add(c)
	slots := c.Flags().Lookup("slots")
	slots.NoOptDefVal = drawSlots
	slots.Usage = "draw every grid before and after; with --from, --slots=FILE says which slots hold a part"
	addFormat(c, &flags.format, "findings", "text", "json", "sarif", "github")
	c.Flags().BoolVar(&flags.rules, "rules", false, "list all findings there are, with examples")
	return c
}

func (s *streams) check(flags *checkFlags, file string) error {
	draw := flags.slots != ""
	if draw && flags.format != "text" && flags.format != "json" {
		return fmt.Errorf("--slots is drawn as text or json, found --format %s", flags.format)
	}
	if flags.slots == drawSlots {
		flags.slots = ""
	}
	job, err := flags.open(s, file)
	if err != nil {
		return err
	}
	slots, sound := new(check.Slots), !job.Findings.HasErrors()
	switch {
	case sound && draw:
		slots = check.NewSlots(job.Layout)
		job.Check(slots)
	case sound:
		job.Check()
	}
	err = s.reportCheck(flags.format, draw, job, slots)
	s.pointToPages(flags.format, &job.Findings)
	if err != nil {
		return err
	}
	if flags.format == "text" {
		s.sayf("%s: no error in %s", job.Layout.File, job.Counts())
		s.say(job.Notes()...)
	}
	if flags.format == "text" || !draw { // a list of findings has no place for it
		if unlooked := check.NotLookedAt(job.Layout); len(unlooked) > 0 {
			s.sayf("not looked at: %s", strings.Join(unlooked, ", "))
		}
	}
	return nil
}

// reportCheck prints the findings, and the slots if draw is set.
func (s *streams) reportCheck(format string, draw bool, job *gen.Job, slots *check.Slots) error {
	if !draw {
		return s.reportAs(format, s.out, job)
	}
	if format == "json" {
		if err := slots.WriteJSON(s.out, job.Findings.Sorted()); err != nil {
			return failure{err}
		}
		return verdict(job)
	}
	if err := visibly(s.out, func(w io.Writer) error { return slots.WriteMaps(w, s.width()) }); err != nil {
		return failure{err}
	}
	return s.report(job)
}
