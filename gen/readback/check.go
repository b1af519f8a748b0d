package readback

import (
	"sync/atomic"

	"gridferry/gen/family"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// The rules that reading back can find broken.
const (
	RuleDiffers = "read-back-differs" // a line says something else than the move that it was written for
	RuleUnread  = "unread-line"       // a line that family.yaml does not say how to read
	RuleNone    = "no-read-back"      // the family says nothing, or nothing about some kind of move
)

// Checker reads a program while it is being written and walks the move list
// beside it, a line a move. It holds a piece of each at a time.
type Checker struct {
	reader *Reader
	state  *state
	judge  *judge
	tables *tables
	family *family.Family
	job    *move.Job
	list   *diag.List
	each   func(*Item, *move.Move)

	expected *expected

	trial bool // of a plan that people do not have: findings do not point into it

	section atomic.Pointer[string] // that the program is in, for those who read ahead

	lost   bool // the program and the list have parted for good
	blames *blames

	fresh bool      // at the head of a file, where the last selection is said again
	told  move.Move // what is chosen in the last one; its kind is 0 before it
}

// NewChecker returns a checker for one program of the job. What is wrong goes to
// list. Each, which may be nil, is handed every item with the move that was expected
// for it, nil for a line that is none; both hold until the next.
func NewChecker(f *family.Family, job *move.Job, moves move.Batches, list *diag.List, each func(*Item, *move.Move)) *Checker {
	c := &Checker{
		state: newState(&f.Reads), judge: newJudge(&f.Rules, job.Speed), family: f, job: job, list: list,
		each: each, blames: newBlames(f),
	}
	if c.each == nil {
		c.each = func(*Item, *move.Move) {}
	}
	c.tables = newTables(f, c.judge, job)
	c.reader = NewReader(f, *job, c.take)
	c.expected = newExpected(&f.Reads, moves)
	return c
}

// OfTrial tells that the plan is one that people do not have, so that no finding points
// into it where the family's own files will do.
func (c *Checker) OfTrial() { c.trial = true }

// Write takes a piece of the program.
func (c *Checker) Write(p []byte) (int, error) { return c.reader.Write(p) }

// NextFile tells that what follows is another of the program's files.
func (c *Checker) NextFile() {
	c.reader.Close()
	c.reader.section, c.fresh = "", true
	c.tell()
}

// Close reads what is left and finds what the program lacks.
func (c *Checker) Close() error {
	defer c.expected.stop()
	err := c.reader.Close()
	if c.lost {
		return err
	}
	if m, _ := c.expected.next(); m != nil {
		c.list.Errorf(RuleDiffers, m.Place, "the program ends before move %d (%s)", m.N, describe(m)).
			WithHint("what %q writes does not read back; see \"reads\" in the family's %s", m.Kind, rules.File)
	}
	for _, e := range c.tables.missing() {
		c.list.Errorf(RuleDiffers, c.job.Place, "the program holds no entry that reads as %s %q", e.word(), e.name)
	}
	return err
}

// take compares one line.
func (c *Checker) take(item *Item) {
	if c.lost {
		return
	}
	c.state.complete(item)
	switch {
	case item.Means == 0:
		c.unreadable(item)
	case item.isEntry():
		c.entry(item)
	case item.IsMove():
		c.move(item)
		return
	}
	c.each(item, nil)
}

// unreadable stops the comparison: what such a line would have been is missing
// behind it.
func (c *Checker) unreadable(item *Item) {
	c.lost = true
	c.list.Errorf(RuleUnread, c.family.Reads.Place, "line %d of the program fits nothing that \"reads\" lists: %q", item.Line, start(item.Text)).
		WithHint("add how such a line reads; \"is: text\" for one that moves nothing")
}

func (c *Checker) entry(item *Item) {
	e, deltas, ok := c.tables.compare(item)
	if !ok {
		c.list.Errorf(RuleDiffers, c.job.Place, "line %d of the program reads as an entry of a table that the job does not have: %q", item.Line, start(item.Text))
		return
	}
	for _, d := range deltas {
		c.list.Errorf(RuleDiffers, c.job.Place, "%s %q has %s in the cell, but line %d of the program reads %s: %q",
			e.word(), e.name, d.want(), item.Line, d.got(), start(item.Text))
	}
}

func (c *Checker) move(item *Item) {
	if c.repeats(item) {
		c.each(item, nil)
		return
	}
	m, when := c.expected.next()
	switch {
	case m == nil:
		c.lost = true
		c.list.Errorf(RuleDiffers, c.job.Place, "after the last move line %d of the program reads as one more %s: %q", item.Line, item.Kind, start(item.Text))
	case m.Kind != item.Kind || when != item.When:
		c.lost = true
		c.differs(c.family.PlaceOf(m.Kind.String()), m, "move %d is %s, but line %d of the program reads as %s: %q",
			m.N, describe(m), item.Line, item.Kind, start(item.Text))
	default:
		c.fresh = false
		if m.Kind == move.Select {
			c.told.Kind, c.told.FrameNumber, c.told.ToolNumber, c.told.Load = m.Kind, m.FrameNumber, m.ToolNumber, m.Load
		}
		c.same(item, m)
		c.each(item, m)
	}
}

// repeats tells whether a line says the last selection once more, as the head of
// each part of a program does.
func (c *Checker) repeats(item *Item) bool {
	return c.fresh && item.Kind == move.Select && c.told.Kind == move.Select && c.state.known[item.lineKind()] != 0 &&
		len(c.judge.deltas(item, &c.told, c.state.known[item.lineKind()])) == 0
}

// same compares a line with its move. What one place in a template has made of a field
// is told once, and the fields of a line together.
func (c *Checker) same(item *Item, m *move.Move) {
	deltas := c.blames.untold(item.Kind, c.judge.deltas(item, m, c.state.known[item.lineKind()]))
	if len(deltas) == 0 {
		return
	}
	c.differs(c.blames.place(item.Kind, deltas), m, "%smove %d (%s) has %s, but line %d of the program reads %s: %q",
		swapped(deltas), m.N, describe(m), joined(deltas, Delta.want), item.Line, joined(deltas, Delta.got), start(item.Text)).
		WithHint("the family's template and what it says under \"reads\" do not agree, or the decimals do not do")
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

// Warn says what of a family's programs is not read back.
func Warn(f *family.Family, list *diag.List) {
	if f.Loops {
		return // no controller reads loops, and nothing in them is a single move
	}
	at := diag.Place{File: f.Label + "/" + rules.File}
	if !f.Reads.Has() {
		list.Warnf(RuleNone, at, "the family does not say how its lines read, so that its programs are not read back").
			WithHint("add \"reads\" to %s; templates/AUTHORING.md tells how", rules.File)
		return
	}
	for _, kind := range move.Kinds {
		_, cannot := f.Cannot[kind.String()]
		if !cannot && kind != move.Note && kind != move.Select && !f.Reads.Knows(kind) {
			list.Warnf(RuleNone, f.Reads.Place, "\"reads\" does not say how %q reads, so that it is not read back", kind).
				WithHint("add an entry with \"is: %s\"", kind)
		}
	}
}
