package live

import (
	"context"

	"gridferry/gen/compare"
	"gridferry/gen/overlay"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/knob"
	"gridferry/plan/suggest"
)

// Flow is what the stages of a job do for the page.
type Flow struct {
	// Read takes texts to a job: read, then resolved.
	Read func(plan.Source) Job
	// Suggest says what may stand at a place of one of the texts; nil for nothing.
	Suggest func(source plan.Source, file string, line, column int) []suggest.Suggestion
	// Means says what the key means that stands, or whose value stands, at such a place; nil for nothing.
	Means func(source plan.Source, file string, line, column int) *suggest.Meaning
	// Families are those whose programs can be asked for; the first is the one that is shown.
	Families []Family
}

// Job is a plan that was read. Its methods may be called at the same time. Each pass over moves ends when ctx is done;
// the answer is then of no use.
type Job interface {
	// Work does everything that a state says, and the scene of a plan without errors.
	Work(ctx context.Context) *Work
	// Scene is the scene of a plan with errors that could be resolved nevertheless; nil where it could not.
	Scene(ctx context.Context) ([]byte, error)
	// Program is that in one of the flow's families: checked, sealed and read back. With errors
	// among the findings it must not be used.
	Program(ctx context.Context, family string) (*Program, error)
	// Lines are the first and last line of that program for each move of the scene, two figures a move; 0 and 0 for none.
	Lines(ctx context.Context, family string) ([]int, error)
	// Why says what rests on a line of plan or cell, or why a move or a line of the program is there.
	Why(ctx context.Context, q Question) (Answer, error)
	// Differences compares it with another one; neither may have errors.
	Differences(ctx context.Context, other Job) (Differences, error)
}

// Work is what came of a job.
type Work struct {
	Findings    []diag.Finding // sorted
	Sources     *diag.Sources
	Scene       []byte // JSON (gen/scene); nil with errors
	Drawable    bool   // with errors, there is a scene nevertheless
	Title       string // of the plan; "" for none
	Summary     string // one line: transfers, moves, time
	NotLookedAt []string
	Figures     []Figure
	Knobs       []knob.Knob
}

// firstError is the first error among some findings, with its place; "" for none.
func firstError(findings []diag.Finding) string {
	for _, f := range findings {
		if f.Severity == diag.Error {
			return f.Place.String() + ": " + f.Message
		}
	}
	return ""
}

// Program is a program's text; where it has several files, one behind the other.
type Program struct {
	Text     []byte
	Files    int
	Findings []diag.Finding
}

// Family is a family whose program can be asked for.
type Family struct {
	Name      string `json:"name"`
	Doc       string `json:"doc"`
	Extension string `json:"extension"` // of a program's file
}

// Figure is a figure of the job, as people read it.
type Figure struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Differences is how two plans differ.
type Differences struct {
	Summary string          `json:"summary"`
	Moves   []compare.Said  `json:"moves"`
	Slots   []overlay.Shift `json:"slots"`
}

// Question is about one thing: a line of a file, a move (from 1), or a line of a family's program.
type Question struct {
	File        string `json:"file"`
	Line        int    `json:"line"`
	Move        int    `json:"move"`
	ProgramLine int    `json:"programLine"`
	Family      string `json:"family"`
}

// Answer is one, for people.
type Answer struct {
	Title string   `json:"title"`
	Lines []string `json:"lines"`
}
