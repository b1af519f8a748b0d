package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/check"
)

const checkHelp = `Check proves a plan without writing anything: it reads the plan and its cell,
expands every move, and tells what is wrong, each finding at the line and column
that caused it.

"--slots" also draws every grid before the first move and after the last one,
and at which transfers each slot changed; with "--format json" it gives one
object with "findings" and "grids". "--rules" tells, without a plan, every
finding that a plan can have, with an example of each.

"--prove-out" checks a first run instead of the job: slow, lifted, without parts.
"--from N" checks the rest of the job after a stop, with what stands in the slots
then; "--slots=FILE" says what somebody found there. See plan/RUNNING.md.

Exit status: 0 when nothing is wrong (warnings do not count), 1 when something
is, 2 for wrong use of the command. "-" reads the plan from standard input.`

// checkFlags say what check shows.
type checkFlags struct {
	jobFlags
	format string
	rules  bool
}

// drawSlots is what "--slots" without a file says.
const drawSlots = "draw"

func newCheck(s *streams) *cobra.Command {
	var flags checkFlags
	c := &cobra.Command{
		Use:   "check PLAN",
		Short: "Prove a plan and tell what is wrong with it",
		Long:  checkHelp,
		Args: func(c *cobra.Command, args []string) error {
			switch {
			case !flags.rules:
				return onePlan(c, args)
			case len(args) > 0:
				return fmt.Errorf("--rules tells every finding without a PLAN, found %q", args[0])
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if flags.rules {
				return s.inForm(flags.format, writers{"text": check.WriteManual, "json": check.WriteManualJSON})
			}
			return s.check(&flags, args[0])
		},
	}
	flags.add(c)
	slots := c.Flags().Lookup("slots")
	slots.NoOptDefVal = drawSlots
	slots.Usage = "draw every grid before and after; of a rest, --slots=FILE says which slots hold a part"
	addFormat(c, &flags.format, "findings", "text", "json")
	c.Flags().BoolVar(&flags.rules, "rules", false, "tell every finding that a plan can have, with examples")
	return c
}

func (s *streams) check(flags *checkFlags, file string) error {
	draw := flags.slots != ""
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
		sound = job.Check(slots)
	case sound:
		sound = job.Check()
	}
	if err := s.reportCheck(flags.format, draw, job, slots); err != nil {
		return err
	}
	if sound && flags.format == "text" {
		s.sayf("%s: no error in %s", job.Layout.File, job.Counts())
		s.say(job.Remarks()...)
	}
	return nil
}

// reportCheck tells the findings, and the slots where they are wanted.
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
	if err := slots.WriteMaps(s.out, s.width()); err != nil {
		return failure{err}
	}
	return s.report(job)
}
