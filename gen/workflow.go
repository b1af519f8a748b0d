package gen

import (
	_ "embed"
	"fmt"
	"path/filepath"
	"strings"

	"gridferry/gen/out"
	"gridferry/plan/lazy"
)

// Workflow is a workflow of GitHub Actions that checks the plans of a repository.
type Workflow struct {
	Repository string // OWNER/NAME of Gridferry's; empty for one that a variable of the team's repository names
	Ref        string // the version of Gridferry: a tag, or a commit
}

//go:embed workflow.yml
var workflowText string

// WorkflowName is where the workflow goes in a repository.
const WorkflowName = ".github/workflows/gridferry.yml"

// unnamed is the step that is needed where a variable names the repository.
const unnamed = `      - if: vars.GRIDFERRY_REPOSITORY == ''
        run: |
          echo "::error::set the variable GRIDFERRY_REPOSITORY of this repository to OWNER/NAME of Gridferry's"
          exit 1
`

// Parts of the text that are put in.
const (
	stepHere = "      # STEP\n"
	nameHere = "REPOSITORY"
	refHere  = "REF"
)

var (
	repositoryForm = lazy.Regexp(`^[A-Za-z0-9][A-Za-z0-9-]*/[A-Za-z0-9._-]+$`)
	refForm        = lazy.Regexp(`^[A-Za-z0-9][A-Za-z0-9._/-]*$`)
)

// NewWorkflow reads "OWNER/NAME" or "OWNER/NAME@REF". Nothing is a repository that a variable names;
// no ref is the version of this program.
func NewWorkflow(text string) (*Workflow, error) {
	repository, ref, pinned := strings.Cut(text, "@")
	if !pinned {
		ref = "v" + Version
	}
	if repository != "" && !repositoryForm().MatchString(repository) || !refForm().MatchString(ref) {
		return nil, fmt.Errorf("--repository is %q, wanted OWNER/NAME or OWNER/NAME@VERSION", text)
	}
	return &Workflow{repository, ref}, nil
}

// Text is the workflow.
func (w *Workflow) Text() string {
	step, name := "", w.Repository
	if name == "" {
		step, name = unnamed, "${{ vars.GRIDFERRY_REPOSITORY }}"
	}
	return strings.NewReplacer(stepHere, step, nameHere, name, refHere, w.Ref).Replace(workflowText)
}

// Write writes the workflow into a repository, unless there is one. It returns what to say about that.
func (w *Workflow) Write(folder string) ([]string, error) {
	batch := out.NewBatch()
	defer batch.Discard()
	if err := batch.AddNew(filepath.Join(folder, filepath.FromSlash(WorkflowName)), []byte(w.Text())); err != nil {
		return nil, err
	}
	return each("wrote ", batch.Names()), batch.Commit()
}
