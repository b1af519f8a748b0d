package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/goldens"
	"gridferry/plan/diag"
)

const goldenHelp = `Golden runs the test cases in FOLDER: each is a plan and a family, and the
programs that were recorded as correct. It reports every difference. Run it
before a new version of Gridferry or a changed family goes to a machine.

A case is a folder with a file case.yaml and a folder "expected" with the
programs:

  format: gridferry case 1
  plan: ../../mortar-cubes.plan.yaml  # relative to this file
  family: ../../my-family             # a folder, or a shipped family
  set: [grids.tray.rows=5]            # optional, as --set
  missing: [tray B3]                  # optional, as --missing; filled, too

Plans and families lie in FOLDER too: golden reads nothing outside it, follows
no link out of it, and reads no pipe and no device.

--accept records new results, if the plan passes the check, the programs read
back, two runs give the same, and no value is missing. Read what was recorded.
Of what nothing gives any more it removes only programs whose seal is whole;
any other file in "expected" is named and stays.

Exit status: 0 all as recorded, 1 differences or errors, 2 wrong use of the
command.

  gridferry golden .`

func newGolden(s *streams) *cobra.Command {
	var accept bool
	c := &cobra.Command{
		Use:   "golden FOLDER",
		Short: "Run recorded test cases",
		Long:  goldenHelp,
		Args:  arguments(1, 1),
		RunE:  func(_ *cobra.Command, args []string) error { return s.golden(args[0], accept) },
	}
	c.Flags().BoolVar(&accept, "accept", false, "record new results")
	return c
}

func (s *streams) golden(folder string, accept bool) error {
	found := new(gen.Job)
	cases, err := goldens.Find(folder, &found.Findings, &found.Sources)
	if err != nil {
		return err
	}
	status := s.report(found)
	passed := 0
	for run := range gen.RunGoldens(cases, accept) {
		if run.Err != nil {
			return failure{fmt.Errorf("%s: %w", run.Folder, run.Err)}
		}
		if s.reportCase(run) {
			passed++
		} else {
			status = errFindings
		}
	}
	s.sayf("%d of %d cases passed", passed, len(cases))
	return status
}

// reportCase prints the result of a case and reports whether it passed.
func (s *streams) reportCase(run *gen.GoldenCase) bool {
	s.report(run.Job)
	for _, fault := range run.Faults {
		s.differs(run, "cannot be recorded: "+fault)
	}
	for _, name := range run.Foreign {
		s.sayf("%s: golden did not record %q, and leaves it there", filepath.ToSlash(run.Expected()), name)
	}
	switch {
	case run.Recorded:
		s.sayf("%s: recorded", run.Folder)
	case run.Passed():
		s.sayf("%s: as recorded", run.Folder)
	default:
		for _, d := range run.Diff {
			s.differs(run, d)
		}
	}
	return run.Passed()
}

// differs prints a line about a case on standard output.
func (s *streams) differs(run *gen.GoldenCase, text string) {
	fmt.Fprintf(s.out, "%s: %s\n", diag.Visible(run.Folder), diag.Diff(text, s.coloredOn(s.out)))
}
