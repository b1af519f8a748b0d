package cli

import (
	"errors"
	"path/filepath"

	"github.com/spf13/cobra"

	"gridferry/gen"
)

const initHelp = `Init prepares a repository that holds plans for what a team uses beside Gridferry.

--ci writes a workflow of GitHub Actions, ` + gen.WorkflowName + `: it
checks every plan at each push and in each pull request, and shows what it finds
beside the lines. It may read the repository and nothing else, and builds one
version of Gridferry, this one unless another is named. If the file exists
already, nothing is written.

--repository says where Gridferry's own repository is: OWNER/NAME or
OWNER/NAME@VERSION, a tag or a commit. Without it, the variable
GRIDFERRY_REPOSITORY of the team's repository says so.

  gridferry init --ci`

func newInit(s *streams) *cobra.Command {
	var ci bool
	var repository string
	c := &cobra.Command{
		Use: "init [FOLDER] --ci", Short: "Prepare a repository of plans for CI", Long: initHelp, Args: arguments(0, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			if !ci {
				return errors.New("nothing is asked for: \"gridferry init --ci\" writes a workflow, \"gridferry new\" a starter cell and plan")
			}
			return s.writeWorkflow(append(args, ".")[0], repository)
		},
	}
	c.Flags().BoolVar(&ci, "ci", false, "write a workflow of GitHub Actions that checks all plans")
	c.Flags().StringVar(&repository, "repository", "", "Gridferry's repository on GitHub: OWNER/NAME or OWNER/NAME@VERSION")
	return c
}

func (s *streams) writeWorkflow(folder, repository string) error {
	w, err := gen.NewWorkflow(repository)
	if err != nil {
		return err
	}
	said, err := w.Write(folder)
	if err != nil {
		return failure{err}
	}
	s.say(said...)
	if w.Repository == "" {
		s.say("next: set the variable GRIDFERRY_REPOSITORY of your repository to OWNER/NAME of Gridferry's")
	}
	s.sayf("next: commit %s", filepath.ToSlash(filepath.Join(folder, gen.WorkflowName)))
	return nil
}
