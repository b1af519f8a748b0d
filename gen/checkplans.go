package gen

import (
	"iter"

	"gridferry/gen/check"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Checked is what the check of one of several plans gave, without the job itself.
type Checked struct {
	File     string
	Found    diag.List
	Sources  *diag.Sources // those that findings speak of
	Counts   *move.Counts  // of the moves; nil where there is no list of them
	Unlooked []string      // what no rule looked at
	Notes    []string
	Err      error // the plan could not be opened
}

// CheckPlans checks plans side by side; the results are in the order of the files.
func CheckPlans(files []string, open func(file string) (*Job, error)) iter.Seq[*Checked] {
	return SideBySide(len(files), func(i int) *Checked {
		job, err := open(files[i])
		if err != nil {
			return &Checked{File: files[i], Err: err}
		}
		job.OneCore = fillCores(len(files))
		return job.checked(files[i])
	})
}

func (j *Job) checked(file string) *Checked {
	c := &Checked{File: file}
	if !j.Findings.HasErrors() {
		j.Check()
		counts := j.Counts()
		c.Counts, c.Unlooked, c.Notes = &counts, check.NotLookedAt(j.Layout), j.Notes()
	}
	c.Found, c.Sources = j.Findings, j.Sources.Of(j.Findings.Sorted())
	return c
}

// Notes are remarks about a plan without errors, a line each.
func (j *Job) Notes() []string {
	notes := j.LeftBehind()
	for _, n := range check.StackNotes(j.Layout) {
		notes = append(notes, n.Grid+": "+n.Text)
	}
	return notes
}
