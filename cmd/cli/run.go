package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/plan"
	"gridferry/plan/unit"
)

// runFlags ask for a prove-out, a resumed job, or both.
type runFlags struct {
	proveOut       bool
	options        proveout.Options // of the prove-out
	gripper, steps string
	stops          string
	resumed        resume.Request
	slots          string
	changed        func(flag string) bool
}

// onlyWith lists flags that work only with another one.
var onlyWith = []struct{ flag, needs string }{
	{"speed", "prove-out"}, {"lift", "prove-out"}, {"gripper", "prove-out"}, {"steps", "prove-out"},
	{"holding", "from"}, {"begin", "from"},
}

func (f *runFlags) add(c *cobra.Command) {
	f.changed = c.Flags().Changed
	c.Flags().BoolVar(&f.proveOut, "prove-out", false, "prove-out: slow, lifted, gripper still")
	f.options = proveout.Options{Speed: proveout.TopSpeed, Lift: proveout.DefaultLift}
	addQuantity(c, &f.options.Speed, unit.Speed, "speed", "with --prove-out: highest speed, in mm/s or with a unit", reducedSpeed)
	addQuantity(c, &f.options.Lift, unit.Length, "lift", "with --prove-out: how far slots and approach points are lifted, in mm or with a unit", notBelowZero)
	addChoice(c.Flags(), &f.gripper, "gripper", "with --prove-out: still, or work as planned", "still", "work")
	addChoice(c.Flags(), &f.steps, "steps", "with --prove-out: other outputs and inputs still, or work as planned", "still", "work")
	addChoice(c.Flags(), &f.stops, "stops", "optional stops: as-planned or after-transfer", "as-planned", "after-transfer")
	c.Flags().IntVar(&f.resumed.Transfer, "from", 0, "resume the job at this transfer")
	c.Flags().BoolVar(&f.resumed.Holding, "holding", false, "with --from: the gripper already holds the part of that transfer")
	c.Flags().BoolVar(&f.resumed.Begin, "begin", false, "with --from: repeat the steps of \"begin\"")
}

func reducedSpeed(v float64) error {
	if 0 < v && v <= proveout.TopSpeed {
		return nil
	}
	return wanted(fmt.Sprintf("more than 0 and at most %d mm/s, the manual reduced speed of ISO 10218-1", proveout.TopSpeed))
}

func notBelowZero(v float64) error {
	if v >= 0 {
		return nil
	}
	return wanted("0 or more")
}

// jobFlags are the flags of commands that take a plan, and perhaps a prove-out or a resumed
// job of it.
type jobFlags struct {
	planFlags
	runFlags
}

func (f *jobFlags) add(c *cobra.Command) {
	f.planFlags.add(c)
	f.runFlags.add(c)
	f.addSlots(c)
}

// open reads a plan and prepares the run. An error is wrong use; errors in the plan are
// among the job's findings.
func (f *jobFlags) open(s *streams, file string) (*gen.Job, error) {
	job, err := f.read(s, file)
	if err == nil {
		err = f.prepare(s, job)
	}
	return job, err
}

// openWith opens a plan and a family, and reports errors in them.
func (f *jobFlags) openWith(s *streams, file, name string) (*gen.Job, *family.Family, error) {
	if name == "all" {
		return nil, nil, errors.New("--family is \"all\", wanted one family")
	}
	job, err := f.open(s, file)
	if err != nil {
		return nil, nil, err
	}
	one, err := job.OpenFamily(name)
	if err == nil && job.Findings.HasErrors() {
		err = s.report(job)
	}
	return job, one, err
}

// sound opens a plan and reports its findings.
func (f *jobFlags) sound(s *streams, file string) (*gen.Job, error) {
	job, err := f.open(s, file)
	if err == nil {
		err = s.report(job)
	}
	return job, err
}

func (f *runFlags) addSlots(c *cobra.Command) {
	c.Flags().StringVar(&f.slots, "slots", "", "with --from: file that says which slots hold a part")
}

// prepare turns a job into the run that the flags ask for. An error is wrong use; what
// keeps the run from being possible is among the job's findings.
func (f *runFlags) prepare(s *streams, job *gen.Job) error {
	run, err := f.run()
	if err != nil {
		return err
	}
	if run.Resume != nil && f.slots != "" {
		source, err := plan.Open(f.slots, s.in)
		if err != nil {
			return err
		}
		run.Resume.Found = plan.ReadFound(source, &job.Findings, &job.Sources)
	}
	if job.Findings.HasErrors() {
		return nil
	}
	if n := job.Layout.Transfers(); run.Resume != nil && (run.Resume.Transfer < 1 || run.Resume.Transfer > n) {
		return fmt.Errorf("--from is %d, wanted 1 to %d, the transfers of the plan", run.Resume.Transfer, n)
	}
	job.Prepare(run)
	return nil
}

func (f *runFlags) run() (gen.Run, error) {
	run := gen.Run{Stops: f.stops == "after-transfer"}
	for _, o := range onlyWith {
		if f.changed(o.flag) && !f.changed(o.needs) {
			return run, fmt.Errorf("--%s works only with --%s", o.flag, o.needs)
		}
	}
	if f.slots != "" && !f.changed("from") {
		return run, fmt.Errorf("--slots works only with --from")
	}
	if f.changed("from") {
		resumed := f.resumed // each side of a comparison has its own
		run.Resume = &resumed
	}
	if f.proveOut {
		options := f.options
		options.Grips, options.Steps = f.gripper == "work", f.steps == "work"
		run.ProveOut = &options
	}
	return run, nil
}
