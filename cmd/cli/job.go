package cli

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
)

// planFlags are the flags of commands that read a plan.
type planFlags struct {
	set   []string
	short []shortForm
	limit int
}

func (f *planFlags) add(c *cobra.Command) {
	c.Flags().StringArrayVar(&f.set, "set", nil, "change a value before reading, such as grids.tray.rows=5 (repeatable; list items count from 1)")
	f.addShortForms(c)
	c.Flags().IntVar(&f.limit, "limit", layout.DefaultSlots, "bound on the slots of all grids together, and on the transfers")
}

// read reads a plan. An error is wrong use; errors in the plan are among the job's
// findings.
func (f *planFlags) read(s *streams, file string) (*gen.Job, error) {
	settings, err := f.settings()
	if err != nil {
		return nil, err
	}
	source, err := plan.Open(file, s.in)
	if err != nil {
		return nil, err
	}
	job := &gen.Job{Watch: s.watch(file)}
	job.Read(source, settings, layout.Options{Slots: f.limit})
	return job, nil
}

func (f *planFlags) settings() ([]plan.Setting, error) {
	if f.limit < 1 || f.limit > math.MaxInt32 {
		return nil, fmt.Errorf("--limit is %d, wanted 1 to %d", f.limit, math.MaxInt32)
	}
	var settings []plan.Setting
	for _, text := range f.set {
		setting, ok := plan.NewSetting(text)
		if !ok {
			return nil, fmt.Errorf("--set %q has no \"=\", wanted %s", text, plan.SetForm)
		}
		settings = append(settings, setting)
	}
	for _, short := range f.short {
		settings = append(settings, short.given...)
	}
	return settings, nil
}
