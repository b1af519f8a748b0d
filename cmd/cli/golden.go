package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/goldens"
)

const goldenHelp = `Golden runs every case in a folder: a plan through a family, compared with the
programs that somebody has read and recorded. Run it before a new version or a
changed family goes to the machines.

A case is a folder with a file case.yaml:

  format: gridferry case 1
  plan: ../plans/cubes.plan.yaml     # beside this file
  family: ../../my-family            # a folder, or a shipped family's name
  set: [grids.tray.rows=5]           # may be left out

and beside it a folder "expected" with the programs. "--accept" records them: only
what passes every check, reads back, comes out the same twice and holds no sign of
a value that was not there. Read what it recorded.

Exit status: 0 all as recorded, 1 something differs, 2 wrong use.`

func newGolden(s *streams) *cobra.Command {
	var accept bool
	c := &cobra.Command{
		Use:   "golden FOLDER",
		Short: "Hold programs to what was recorded",
		Long:  goldenHelp,
		Args:  arguments(1, 1),
		RunE:  func(_ *cobra.Command, args []string) error { return s.golden(args[0], accept) },
	}
	c.Flags().BoolVar(&accept, "accept", false, "record what comes out, once it is proved")
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
	for _, c := range cases {
		run, err := gen.RunGolden(c, accept)
		if err != nil {
			return failure{fmt.Errorf("%s: %w", c.Folder, err)}
		}
		if s.tellCase(run) {
			passed++
		} else {
			status = errFindings
		}
	}
	s.sayf("%d of %d cases passed", passed, len(cases))
	return status
}

// tellCase says how a case went, and whether well.
func (s *streams) tellCase(run *gen.GoldenCase) bool {
	s.report(run.Job)
	for _, fault := range run.Faults {
		s.differs(run, "not fit to be recorded: "+fault)
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

// differs writes what the command is asked for.
func (s *streams) differs(run *gen.GoldenCase, text string) {
	fmt.Fprintf(s.out, "%s: %s\n", run.Folder, text)
}
