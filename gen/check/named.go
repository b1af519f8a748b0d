package check

import (
	"fmt"

	"gridferry/gen/move"
)

// its is the part of a transfer in messages: its id where it has one.
func its(m *move.Move) string {
	if m.ID == nil {
		return "its part"
	}
	return fmt.Sprintf("its part %q", *m.ID)
}

// aPart is the same where it is spoken of for the first time.
func aPart(m *move.Move) string {
	if m.ID == nil {
		return "a part"
	}
	return fmt.Sprintf("the part %q", *m.ID)
}

// idAt is the id of the part that stands in a slot; "" for one without.
func (s *Scene) idAt(at move.Target) string {
	if s.ids == nil {
		return ""
	}
	g := s.byName[at.Grid].Grid
	if id := s.Layout.ID(s.ids.At(g, g.Index(at.Slot))); id != nil {
		return *id
	}
	return ""
}

// partAt is the part that stands in a slot, in messages: the part "S-0042" at "tray A1".
func (s *Scene) partAt(at move.Target) string {
	if id := s.idAt(at); id != "" {
		return fmt.Sprintf("the part %q at %q", id, at)
	}
	return fmt.Sprintf("the part at %q", at)
}

// one is a part that stands in a slot, in messages that name the slot themselves.
func (s *Scene) one(at move.Target, otherwise string) string {
	if id := s.idAt(at); id != "" {
		return fmt.Sprintf("the part %q", id)
	}
	return otherwise
}

// identify takes down which part is where behind a grip or a release.
func (s *Scene) identify(m *move.Move) {
	switch {
	case s.ids == nil || s.Grid == nil:
	case m.Takes():
		s.ids.Put(s.Grid.Grid, s.Slot, 0)
	case m.Puts():
		s.ids.Put(s.Grid.Grid, s.Slot, s.Layout.Number(m.ID))
	}
}
