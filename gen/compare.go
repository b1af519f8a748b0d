package gen

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"gridferry/gen/compare"
	"gridferry/gen/family"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/gen/render"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// Compared is one side of a comparison: a plan, or a program with its family.
type Compared struct {
	Name   string
	Job    *Job                          // the plan; of a program, the one that knows its names and frames, or nil
	Open   func() (io.ReadCloser, error) // the program; nil for a plan
	Family *family.Family                // of a program

	otherEnd seal.OtherEnd
}

// Comparison is two sides to be compared.
type Comparison struct{ A, B *Compared }

// Jobs are the jobs of both sides, each once.
func (c *Comparison) Jobs() []*Job {
	var jobs []*Job
	for _, side := range []*Compared{c.A, c.B} {
		if side.Job != nil && !slices.Contains(jobs, side.Job) {
			jobs = append(jobs, side.Job)
		}
	}
	return jobs
}

// Programs reports whether both sides are programs.
func (c *Comparison) Programs() bool { return c.A.Open != nil && c.B.Open != nil }

// ShareTables gives a program the names and frames of the plan on the other side; two
// programs get those of another plan, or nil.
func (c *Comparison) ShareTables(other *Job) {
	from := other
	for _, side := range []*Compared{c.B, c.A} {
		if side.Open == nil {
			from = side.Job
		}
	}
	for _, side := range []*Compared{c.A, c.B} {
		if side.Open != nil && !side.Job.Findings.HasErrors() {
			side.Job = from
		}
	}
}

// Run reports the differences. A plan beside a program is written in the program's family
// and read back, so that both sides hold the same fields; if it cannot be written, its
// findings say why and there is no report. A program of another run than the plan beside
// it gives a HeadError.
func (c *Comparison) Run() (*compare.Report, error) {
	for _, pair := range [][2]*Compared{{c.A, c.B}, {c.B, c.A}} {
		if err := pair[0].headFits(pair[1]); err != nil {
			return nil, err
		}
	}
	first, err := c.A.side(c.B.Family)
	if err != nil {
		return nil, err
	}
	second, err := c.B.side(c.A.Family)
	if err != nil {
		return nil, err
	}
	report, err := compare.Compare(first, second)
	if errors.Is(err, errUnwritten) {
		return nil, nil
	}
	if err != nil {
		return report, err
	}
	c.toolCentres(report)
	c.otherEnds(report)
	report.Controller, err = c.controller()
	return report, err
}

// otherEnds reports the programs of which a controller may read other lines than these.
func (c *Comparison) otherEnds(report *compare.Report) {
	if end := c.A.otherEnd; end.Line > 0 {
		report.AddBeside(compare.Beside{A: end.String(), Lines: [2]int{end.Line, 0}})
	}
	if end := c.B.otherEnd; end.Line > 0 {
		report.AddBeside(compare.Beside{B: end.String(), Lines: [2]int{0, end.Line}})
	}
}

// headFits is a HeadError for a program of another run than the plan's.
func (c *Compared) headFits(plan *Compared) error {
	if c.Open == nil || plan.Open != nil {
		return nil
	}
	text, err := c.Open()
	if err != nil {
		return err
	}
	defer text.Close()
	return headFits(&plan.Job.run.Run, &c.Family.Rules, c.Name, text)
}

// OtherRuns says of two programs of different runs which they are, a line each.
func (c *Comparison) OtherRuns() ([]string, error) {
	if !c.Programs() {
		return nil, nil
	}
	first, err := c.A.headSays()
	if err != nil {
		return nil, err
	}
	second, err := c.B.headSays()
	if err != nil || first == second {
		return nil, err
	}
	var lines []string
	for _, side := range []struct{ name, says string }{{c.A.Name, first}, {c.B.Name, second}} {
		if side.says != "" {
			lines = append(lines, fmt.Sprintf("%s: its head says that it is %s, unlike the other program", side.name, side.says))
		}
	}
	return lines, nil
}

// headSays names the run that a program's head speaks of; "" for a whole job.
func (c *Compared) headSays() (string, error) {
	text, err := c.Open()
	if err != nil {
		return "", err
	}
	defer text.Close()
	run, err := headRun(text, &c.Family.Rules)
	return run.inWords(), err
}

// errUnwritten is for a plan that the family cannot write; findings say why.
var errUnwritten = errors.New("the plan cannot be written")

// ErrNoReads is for a family without readings.
var ErrNoReads = errors.New("programs of this family cannot be read: add \"reads\" to its family.yaml (see templates/AUTHORING.md)")

// side prepares one side to be compared with another one, of a family or none.
func (c *Compared) side(other *family.Family) (compare.Side, error) {
	switch {
	case c.Open == nil && other == nil:
		return compare.Plan(c.Name, move.Single(c.Job.plain())), nil
	case c.Open == nil:
		return c.rendered(other)
	}
	if !c.Family.Reads.Has() {
		return compare.Side{}, ErrNoReads
	}
	job := new(move.Job)
	if c.Job != nil {
		*job = headOf(c.Job.Layout, &c.Job.run, c.Job.Counts())
	}
	sealed, err := c.seal()
	if err != nil {
		return compare.Side{}, err
	}
	c.otherEnd = sealed.OtherEnd
	return compare.Program(c.Name, &c.Family.Reads, job, compare.ReadText(c.Open, &c.Family.Reads, job), sealed.First, sealed.Last), nil
}

// rendered is a plan as the program of a family.
func (c *Compared) rendered(f *family.Family) (compare.Side, error) {
	if !f.Reads.Has() {
		return compare.Side{}, ErrNoReads
	}
	p := c.Job.program(f)
	head := p.head()
	write := func(w io.Writer) error {
		var written diag.List
		err := render.Program(w, f.Blocks, head, p.moves(), &written)
		if err == nil && written.HasErrors() {
			c.Job.Findings.AddAll(&written)
			return errUnwritten
		}
		return err
	}
	checker := func(list *diag.List, each func(*reads.Item, *move.Move)) *readback.Checker {
		return readback.NewChecker(&f.Reads, &head, p.moves(), list, each)
	}
	return compare.Program(c.Name, &f.Reads, &head, compare.Rendered(write, checker), 0, 0), nil
}
