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

// runFlags ask for a first run, or for the rest of a job after a stop.
type runFlags struct {
	proveOut       bool
	first          proveout.Options
	gripper, steps string
	stops          string
	rest           resume.Request
	slots          string
	changed        func(flag string) bool
}

// onlyWith is what each flag means nothing without.
var onlyWith = []struct{ flag, needs string }{
	{"speed", "prove-out"}, {"lift", "prove-out"}, {"gripper", "prove-out"}, {"steps", "prove-out"},
	{"holding", "from"}, {"begin", "from"},
}

func (f *runFlags) add(c *cobra.Command) {
	f.changed = c.Flags().Changed
	c.Flags().BoolVar(&f.proveOut, "prove-out", false, "a first run: slow, lifted, the gripper left alone")
	f.first = proveout.Options{Speed: proveout.TopSpeed, Lift: proveout.DefaultLift}
	addQuantity(c, &f.first.Speed, unit.Speed, "speed", "of a first run, the fastest, mm/s or with a unit", reducedSpeed)
	addQuantity(c, &f.first.Lift, unit.Length, "lift", "of a first run, how far slots and the points above them are lifted, mm or with a unit", notBelowZero)
	addChoice(c.Flags(), &f.gripper, "gripper", "of a first run: still, or work as the plan asks", "still", "work")
	addChoice(c.Flags(), &f.steps, "steps", "of a first run, other outputs and inputs: still, or work as the plan asks", "still", "work")
	addChoice(c.Flags(), &f.stops, "stops", "optional stops: as-planned or after-transfer", "as-planned", "after-transfer")
	c.Flags().IntVar(&f.rest.Transfer, "from", 0, "the rest of a job: the transfer that comes next")
	c.Flags().BoolVar(&f.rest.Holding, "holding", false, "of a rest: the jaw holds the part of that transfer already")
	c.Flags().BoolVar(&f.rest.Begin, "begin", false, "of a rest: do the steps of \"begin\" again")
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

// jobFlags are the flags of every command that reads a plan and goes on with the run
// of it that is asked for.
type jobFlags struct {
	planFlags
	runFlags
}

func (f *jobFlags) add(c *cobra.Command) {
	f.planFlags.add(c)
	f.runFlags.add(c)
	f.addSlots(c)
}

// open takes a plan file to a run. The error is wrong use; what is wrong inside the
// plan, or speaks against the run, is in the job's findings.
func (f *jobFlags) open(s *streams, file string) (*gen.Job, error) {
	job, err := f.read(s, file)
	if err == nil {
		err = f.prepare(s, job)
	}
	return job, err
}

// openWith opens a plan and one family, and reports what is wrong with them.
func (f *jobFlags) openWith(s *streams, file, name string) (*gen.Job, *family.Family, error) {
	if name == "all" {
		return nil, nil, errors.New("--family is \"all\", wanted the one family whose program it is")
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

// sound opens a plan and reports what is wrong with it.
func (f *jobFlags) sound(s *streams, file string) (*gen.Job, error) {
	job, err := f.open(s, file)
	if err == nil {
		err = s.report(job)
	}
	return job, err
}

// addSlots asks for the file of what stands where.
func (f *runFlags) addSlots(c *cobra.Command) {
	c.Flags().StringVar(&f.slots, "slots", "", "of a rest: a file that says which slots hold a part")
}

// prepare turns a job that was read into the run that is asked for. The error is
// wrong use; what speaks against the run is in the job's findings.
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
		return fmt.Errorf("--from is %d, but the plan makes %d transfers, counted from 1", run.Resume.Transfer, n)
	}
	job.Prepare(run)
	return nil
}

func (f *runFlags) run() (gen.Run, error) {
	run := gen.Run{Stops: f.stops == "after-transfer"}
	for _, o := range onlyWith {
		if f.changed(o.flag) && !f.changed(o.needs) {
			return run, fmt.Errorf("--%s means nothing without --%s", o.flag, o.needs)
		}
	}
	if f.slots != "" && !f.changed("from") {
		return run, fmt.Errorf("--slots means nothing without --from")
	}
	if f.changed("from") {
		rest := f.rest // each side of a comparison has its own
		run.Resume = &rest
	}
	if f.proveOut {
		first := f.first
		first.Grips, first.Steps = f.gripper == "work", f.steps == "work"
		run.ProveOut = &first
	}
	return run, nil
}
