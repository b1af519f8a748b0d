package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/plan"
	"gridferry/plan/unit"
)

// runFlags ask for a first run, or for the rest of a job after a stop.
type runFlags struct {
	proveOut       bool
	speed, lift    string
	gripper, steps string
	stops          string
	from           int
	holding, begin bool
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
	c.Flags().StringVar(&f.speed, "speed", fmt.Sprint(proveout.TopSpeed), "of a first run, the fastest, mm/s or with a unit")
	c.Flags().StringVar(&f.lift, "lift", fmt.Sprint(proveout.DefaultLift), "of a first run, how far slots and the points above them are lifted, mm or with a unit")
	c.Flags().StringVar(&f.gripper, "gripper", "still", "of a first run: still, or work as the plan asks")
	c.Flags().StringVar(&f.steps, "steps", "still", "of a first run, other outputs and inputs: still, or work as the plan asks")
	c.Flags().StringVar(&f.stops, "stops", "as-planned", "optional stops: as-planned or after-transfer")
	c.Flags().IntVar(&f.from, "from", 0, "the rest of a job: the transfer that comes next")
	c.Flags().BoolVar(&f.holding, "holding", false, "of a rest: the jaw holds the part of that transfer already")
	c.Flags().BoolVar(&f.begin, "begin", false, "of a rest: do the steps of \"begin\" again")
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
	if n := job.Layout.Transfers(); run.Resume != nil && (f.from < 1 || f.from > n) {
		return fmt.Errorf("--from is %d, but the plan makes %d transfers, counted from 1", f.from, n)
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
	if err := oneOf("--stops", f.stops, "as-planned", "after-transfer"); err != nil {
		return run, err
	}
	if f.changed("from") {
		run.Resume = &resume.Request{Transfer: f.from, Holding: f.holding, Begin: f.begin}
	}
	if !f.proveOut {
		return run, nil
	}
	options, err := f.options()
	run.ProveOut = &options
	return run, err
}

func (f *runFlags) options() (proveout.Options, error) {
	o := proveout.Options{Grips: f.gripper == "work", Steps: f.steps == "work"}
	for _, err := range []error{oneOf("--gripper", f.gripper, "still", "work"), oneOf("--steps", f.steps, "still", "work")} {
		if err != nil {
			return o, err
		}
	}
	var err error
	if o.Speed, err = unit.Parse(f.speed, unit.Speed); err != nil {
		return o, fmt.Errorf("--speed: %w", err)
	}
	if o.Lift, err = unit.Parse(f.lift, unit.Length); err != nil {
		return o, fmt.Errorf("--lift: %w", err)
	}
	if o.Speed <= 0 || o.Speed > proveout.TopSpeed {
		return o, fmt.Errorf("--speed is %s, wanted more than 0 and at most %d mm/s, the manual reduced speed of ISO 10218-1", f.speed, proveout.TopSpeed)
	}
	if o.Lift < 0 {
		return o, fmt.Errorf("--lift is %s, wanted 0 or more", f.lift)
	}
	return o, nil
}
