package readback

import (
	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// The rules that reading back can find broken.
const (
	RuleDiffers = "read-back-differs" // a line says something else than the move that it was written for
	RuleUnread  = "unread-line"       // a line that family.yaml does not say how to read
)

// Checker reads a program while it is being written and walks the move list
// beside it, a line a move. It holds a piece of each at a time.
type Checker struct {
	reader *reads.Reader
	modal  *reads.Modal
	judge  *Judge
	tables *Tables
	reads  *reads.Reads
	job    *move.Job
	list   *diag.List
	each   func(*reads.Item, *move.Move)

	expected *expected

	trial bool // of a plan that people do not have: findings do not point into it

	lost   bool // the program and the list have parted for good
	blames *blames

	fresh    bool      // at the head of a file, where the last selection is said again
	selected move.Move // what is chosen in the last one; its kind is 0 before it
}

// NewChecker returns a checker for one program of the job. What is wrong goes to
// list. Each, which may be nil, is handed every item with the move that was expected
// for it, nil for a line that is none; both hold until the next.
func NewChecker(from *reads.Reads, job *move.Job, moves move.Batches, list *diag.List, each func(*reads.Item, *move.Move)) *Checker {
	c := &Checker{
		modal: reads.NewModal(from), judge: NewJudge(from.Rules, job), reads: from, job: job, list: list,
		each: each, blames: newBlames(from),
	}
	if c.each == nil {
		c.each = func(*reads.Item, *move.Move) {}
	}
	c.tables = NewTables(from, c.judge, job)
	c.reader = reads.NewReader(from, *job, c.take)
	if each != nil {
		c.reader.WithRests()
	}
	c.expected = newExpected(from, job, moves)
	return c
}

// OfTrial says that the plan is one that people do not have, so that no finding points
// into it where the family's own files will do.
func (c *Checker) OfTrial() { c.trial = true }

// Write takes a piece of the program.
func (c *Checker) Write(p []byte) (int, error) { return c.reader.Write(p) }

// NextFile says that what follows is another of the program's files.
func (c *Checker) NextFile() {
	c.reader.NextFile()
	c.fresh = true
}

// NewAhead returns one more reader of pieces.
func (c *Checker) NewAhead() *reads.Ahead { return c.reader.NewAhead() }

// Take compares the next piece of the program.
func (c *Checker) Take(p *reads.Piece) { c.reader.Take(p) }

// Stop gives up what is left of the list.
func (c *Checker) Stop() { c.expected.stop() }

// Close reads what is left and finds what the program lacks.
func (c *Checker) Close() error {
	defer c.expected.stop()
	err := c.reader.Close()
	if c.lost {
		return err
	}
	if m, _ := c.expected.next(); m != nil {
		c.list.Errorf(RuleDiffers, m.Place, "the program ends before move %d (%s)", m.N, Describe(m)).
			WithHint("what %q writes does not read back; see \"reads\" in the family's %s", m.Kind, rules.File)
	}
	for _, e := range c.tables.missing() {
		c.list.Errorf(RuleDiffers, c.job.Place, "the program holds no entry that reads as %s", e)
	}
	return err
}

// take compares one line.
func (c *Checker) take(item *reads.Item) {
	if c.lost {
		return
	}
	c.modal.Complete(item)
	switch {
	case item.Means == 0:
		c.unreadable(item)
	case item.IsEntry():
		c.entry(item)
	case item.IsMove():
		if c.move(item); c.lost {
			c.expected.stop() // nobody asks for another one
		}
		return
	}
	c.each(item, nil)
}

// unreadable stops the comparison: what such a line would have been is missing
// behind it.
func (c *Checker) unreadable(item *reads.Item) {
	c.lost = true
	c.list.Errorf(RuleUnread, c.reads.Place, "line %d of the program matches nothing under \"reads\": %q", item.Line, enough(item.Text)).
		WithHint("add how such a line reads; \"is: text\" for one that moves nothing")
}

func (c *Checker) entry(item *reads.Item) {
	e, deltas, ok := c.tables.Compare(item)
	if !ok {
		c.list.Errorf(RuleDiffers, c.job.Place, "line %d of the program reads as an entry of a table that the job does not have: %q", item.Line, enough(item.Text))
		return
	}
	for _, d := range deltas {
		c.list.Errorf(RuleDiffers, c.job.Place, "%s has %s in the cell, but line %d of the program reads %s: %q",
			e, d.want(), item.Line, d.got(), enough(item.Text))
	}
}

func (c *Checker) move(item *reads.Item) {
	if c.repeats(item) {
		c.each(item, nil)
		return
	}
	m, when := c.expected.next()
	switch {
	case m == nil:
		c.lost = true
		c.list.Errorf(RuleDiffers, c.job.Place, "after the last move line %d of the program reads as one more %s: %q", item.Line, item.Kind, enough(item.Text))
	case m.Kind != item.Kind || when != item.When:
		c.lost = true
		c.differs(c.blames.of(m.Kind, reads.NoField), m, "move %d is %s, but line %d of the program reads as %s: %q",
			m.N, Describe(m), item.Line, item.Kind, enough(item.Text))
	default:
		c.fresh = false
		if m.Kind == move.Select {
			c.selected.Kind, c.selected.FrameNumber, c.selected.ToolNumber = m.Kind, m.FrameNumber, m.ToolNumber
			c.selected.Load, c.selected.Spread = m.Load, m.Spread
		}
		c.same(item, m)
		c.each(item, m)
	}
}

// repeats reports whether a line says the last selection once more, as the head of
// each part of a program does.
func (c *Checker) repeats(item *reads.Item) bool {
	return c.fresh && item.Kind == move.Select && c.selected.Kind == move.Select && c.modal.Compared(item) != 0 &&
		len(c.judge.Deltas(item, &c.selected, c.modal.Compared(item))) == 0
}

// same compares a line with its move. What one place in a template has made of a field
// is reported once, and the fields of a line together.
func (c *Checker) same(item *reads.Item, m *move.Move) {
	deltas := c.judge.Deltas(item, m, c.modal.Compared(item))
	if len(deltas) == 0 {
		return
	}
	if deltas = c.blames.unreported(item.Kind, deltas); len(deltas) == 0 {
		return
	}
	c.differs(c.blames.place(item.Kind, deltas), m, "%smove %d (%s) has %s, but line %d of the program reads %s: %q",
		swapped(deltas), m.N, Describe(m), joined(deltas, Delta.want), item.Line, joined(deltas, Delta.got), enough(item.Text)).
		WithHint("the family's template and what it says under \"reads\" do not agree, or the decimals are too few")
}

// differs reports a difference at a place in the family, with the move that it was found
// at, or at that move where the family has no such place.
func (c *Checker) differs(at diag.Place, m *move.Move, format string, args ...any) *diag.Finding {
	if at.IsZero() {
		return c.list.Errorf(RuleDiffers, m.Place, format, args...)
	}
	f := c.list.Errorf(RuleDiffers, at, format, args...)
	if !c.trial {
		f.WithNote(m.Place, "the first move that it was found at")
	}
	return f
}
