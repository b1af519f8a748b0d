package cli

import (
	"errors"
	"fmt"
	"slices"

	"gridferry/gen"
)

// many reports whether the arguments of check may be several plans.
func (f *checkFlags) many(args []string) bool {
	if len(args) == 2 && f.changed("slots") {
		return false // the file of "--slots FILE", written without its equals sign
	}
	return len(args) > 1 || slices.ContainsFunc(args, func(name string) bool {
		_, all := gen.Below(name)
		return all
	})
}

// onePlanOnly are the flags that are about a single plan.
var onePlanOnly = []string{"slots", "from"}

// checkPlans checks several plans, and reports them as one.
func (s *streams) checkPlans(flags *checkFlags, names []string) error {
	for _, flag := range onePlanOnly {
		if flags.changed(flag) {
			return fmt.Errorf("--%s is about one PLAN: name that alone", flag)
		}
	}
	if slices.Contains(names, "-") {
		return errors.New("\"-\", standard input, is one PLAN: name it alone")
	}
	if _, err := flags.run(); err != nil {
		return err
	}
	if _, err := flags.settings(); err != nil {
		return err
	}
	files, err := gen.PlanFiles(names)
	if err != nil {
		return err
	}
	all := new(gen.PlanTable)
	bar := s.newBar(len(files))
	quietly := *s
	quietly.quiet = true // several would show their progress over each other
	for one := range gen.CheckPlans(files, func(file string) (*gen.Job, error) { return flags.open(&quietly, file) }) {
		all.Add(one)
		bar.step(all.Len())
	}
	return s.reportPlans(flags.format, all)
}

// reportPlans prints the findings of all plans, and the table of them.
func (s *streams) reportPlans(format string, all *gen.PlanTable) error {
	var err error
	if format == "text" {
		if err = s.print(all.Found.Sorted(), &all.Sources); err == nil {
			err = visibly(s.out, all.Write)
		}
	} else {
		err = findingsAs(format, s.out, &all.Found, &all.Sources)
	}
	if err != nil {
		return failure{err}
	}
	s.pointToPages(format, &all.Found)
	if format == "text" {
		s.say(all.Notes...)
	}
	if unlooked := all.NotLookedAt(); unlooked != "" {
		s.sayf("not looked at: %s", unlooked)
	}
	s.say(all.Summary())
	if all.Failed != nil {
		return failure{all.Failed}
	}
	return verdictOn(&all.Found)
}
