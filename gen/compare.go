package gen

import (
	"errors"
	"io"

	"gridferry/gen/compare"
	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/gen/render"
	"gridferry/plan/diag"
)

// Compared is one side of a comparison: a plan, which was read without an error, or
// a program with the family that it is written in.
type Compared struct {
	Name   string
	Job    *Job                          // a plan; of a program, the one that tells its names and frames, or nil
	Open   func() (io.ReadCloser, error) // a program; nil for a plan
	Family *family.Family                // of a program
}

// Compare tells in what two sides differ. A plan beside a program is written through
// the program's family and read back, so that both sides tell the same things; what
// keeps it from being written is in its findings, and then there is no report. The error
// is a HeadError for a program of another run than that of the plan beside it.
func Compare(a, b Compared) (*compare.Report, error) {
	for _, pair := range [][2]*Compared{{&a, &b}, {&b, &a}} {
		if err := pair[0].headFits(pair[1]); err != nil {
			return nil, err
		}
	}
	first, err := a.side(b.Family)
	if err != nil {
		return nil, err
	}
	second, err := b.side(a.Family)
	if err != nil {
		return nil, err
	}
	report, err := compare.Compare(first, second)
	if errors.Is(err, errUnwritten) {
		return nil, nil
	}
	return report, err
}

// headFits holds a program beside a plan to the plan's run.
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

// HeadSays is which run a program's head tells of, in words; "" for a whole job, and for
// a plan.
func (c *Compared) HeadSays() (string, error) {
	if c.Open == nil {
		return "", nil
	}
	text, err := c.Open()
	if err != nil {
		return "", err
	}
	defer text.Close()
	run, err := headRun(text, &c.Family.Rules)
	return run.inWords(), err
}

// errUnwritten is a plan that its family cannot write; findings tell why.
var errUnwritten = errors.New("the plan cannot be written")

// ErrNoReads is for a family that does not say how its lines read.
var ErrNoReads = errors.New("the family does not say how its lines read as moves: add \"reads\" to its family.yaml, as templates/AUTHORING.md tells")

// side is one side, as the other one needs it.
func (c *Compared) side(other *family.Family) (compare.Side, error) {
	switch {
	case c.Open == nil && other == nil:
		return compare.Plan(c.Name, c.Job.Moves()), nil
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
	return compare.Program(c.Name, c.Family, job, compare.ReadText(c.Open, c.Family, job)), nil
}

// rendered is a plan as the program that it gives.
func (c *Compared) rendered(f *family.Family) (compare.Side, error) {
	if !f.Reads.Has() {
		return compare.Side{}, ErrNoReads
	}
	p := c.Job.through(f)
	head := p.head()
	write := func(w io.Writer) error {
		var written diag.List
		err := render.Program(w, f, head, p.moves(), &written)
		if err == nil && written.HasErrors() {
			c.Job.Findings.AddAll(&written)
			return errUnwritten
		}
		return err
	}
	checker := func(list *diag.List, each func(*readback.Item, *move.Move)) *readback.Checker {
		return readback.NewChecker(f, &head, p.moves(), list, each)
	}
	return compare.Program(c.Name, f, &head, compare.Rendered(write, checker)), nil
}
