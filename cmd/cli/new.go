package cli

import (
	"path/filepath"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/plan"
)

const newHelp = `New writes a starter cell and a starter plan into FOLDER, or into the current
folder. They work as they are: check them, look at the moves, then replace the
figures by your own. If one of the files exists already, nothing is written.

  gridferry new trial`

func newNew(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "new [FOLDER]",
		Short: "Create a starter cell and plan",
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
