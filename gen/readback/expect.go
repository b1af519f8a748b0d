package readback

import (
	"iter"

	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// expected is the lines that the program has to have, one after another: a move
// each and, for a select that is written in several lines, a line for every change.
type expected struct {
	whens []string
	shows [move.NumKinds]bool

	more  func() ([]move.Move, bool)
	stop  func()
	piece []move.Move // those still to come of the piece that was asked for

	winding rules.Winding // what the orientation leaves open

	selected *move.Move // the select whose lines are due
	made     int        // so many of its changes were gone through
	before   selection
}

// selection is what a select changes; before the first there is the zero one.
type selection struct {
	any         bool
	frame, tool int
	load        float64
	byHand      bool
}

func newExpected(r *reads.Reads, job *move.Job, moves move.Batches) *expected {
	e := &expected{whens: r.Whens(), winding: r.Rules.NewWinding(job.Turns)}
	for _, kind := range move.Kinds {
		e.shows[kind] = kind != move.Note && kind != move.Select && r.Knows(kind)
	}
	e.more, e.stop = iter.Pull(moves)
	return e
}

// next is the move of the next line and, of a select, the change that it is about.
// It holds until the next one is asked for; nil at the end.
func (e *expected) next() (*move.Move, string) {
	for {
		if e.selected != nil {
			if when, more := e.change(); more {
				return e.selected, when
			}
			e.selected = nil
		}
		m := e.move()
		switch {
		case m == nil:
			return nil, ""
		case m.Kind == move.Select:
			e.selected, e.made = m, 0
		case e.shows[m.Kind]:
			e.winding.Follow(m)
			return m, ""
		}
	}
}

func (e *expected) move() *move.Move {
	for len(e.piece) == 0 {
		piece, more := e.more()
		if !more {
			return nil
		}
		e.piece = piece
	}
	m := &e.piece[0]
	e.piece = e.piece[1:]
	return m
}

// change is the next one of those that the present select makes.
func (e *expected) change() (string, bool) {
	now := selection{true, e.selected.FrameNumber, e.selected.ToolNumber, e.selected.Load, e.selected.ByHand}
	for e.made < len(e.whens) {
		when := e.whens[e.made]
		if e.made++; e.before.changes(now, when) {
			return when, true
		}
	}
	e.before = now
	return "", false
}

// changes reports whether a selection after this one makes that change.
func (before selection) changes(now selection, when string) bool {
	switch when {
	case reads.WhenFrame:
		return !before.any || before.frame != now.frame
	case reads.WhenLoad:
		return !before.any || before.tool != now.tool || before.load != now.load
	case reads.WhenTool:
		return before.any && before.tool != now.tool
	case reads.WhenHand:
		return now.byHand
	}
	return true
}
