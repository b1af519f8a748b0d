package cli

import (
	"path/filepath"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/plan"
)

const newHelp = `New puts a starter cell and a starter plan into a folder. They work as they are:
check them, look at the moves, then put your own figures in place of theirs.
Files that are there already are left alone, and then nothing is written.`

func newNew(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "new [FOLDER]",
		Short: "Start with a cell and a plan that work",
		Long:  newHelp,
		Args:  arguments(0, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			return s.start(append(args, ".")[0])
		},
	}
}

func (s *streams) start(folder string) error {
	said, err := gen.WriteNew(folder, plan.Starter())
	if err != nil {
		return failure{err}
	}
	s.say(said...)
	s.sayf("next: gridferry check %s", filepath.Join(folder, plan.StarterPlan))
	return nil
}
