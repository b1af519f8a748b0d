package readback

import (
	"math/bits"

	"gridferry/gen/family"
	"gridferry/gen/move"
)

// state is the values that hold on until a line says otherwise.
type state struct {
	known   [lineKinds]family.FieldSet // what the program tells of a kind
	holding family.FieldSet
	held    Values
}

// lineKind is a kind of move or, of a select that is told in several lines, the
// change that one of them is about.
type lineKind uint8

// The selects of one change have numbers of their own.
const (
	frameSelect = lineKind(kinds) + iota
	loadSelect
	toolSelect
	lineKinds = int(iota) + kinds
)

func lineKindOf(kind move.Kind, when string) lineKind {
	switch when {
	case family.WhenFrame:
		return frameSelect
	case family.WhenLoad:
		return loadSelect
	case family.WhenTool:
		return toolSelect
	}
	return lineKind(kind)
}

func (item *Item) lineKind() lineKind { return lineKindOf(item.Kind, item.When) }

func newState(reads *family.Reads) *state {
	s := &state{holding: holding | reads.CarriesEntry(family.MeansMode)}
	for _, kind := range move.Kinds {
		s.known[kind] = kept(reads.Carries(kind)) & family.About(kind)
	}
	for _, when := range reads.Whens() {
		s.known[lineKindOf(move.Select, when)] = kept(reads.CarriesWhen(when)) & family.About(move.Select)
	}
	return s
}

// kept puts the field that a value is kept under in the place of the one that it
// is written in.
func kept(set family.FieldSet) family.FieldSet {
	for written, under := range map[family.Field]family.Field{
		family.ReadFrameNumber: family.ReadFrame, family.ReadToolNumber: family.ReadTool, family.ReadName: family.ReadNumber,
	} {
		if set.Has(written) {
			set = set.With(under)
		}
	}
	return set
}

// first is the first field of a set that is not empty.
func first(set family.FieldSet) family.Field { return family.Field(bits.TrailingZeros64(uint64(set))) }

var (
	// holding are the fields that hold on where a line leaves them out, and so do
	// those of modes. Of the others such a line says 0: no fly-by, no time-out.
	holding = family.Pose | family.Chosen | family.SetOf(family.ReadSpeed)

	// must are the fields that a line has to say itself.
	must = family.SetOf(family.ReadSignal, family.ReadLevel, family.ReadTarget)
)

// complete fills in what a line leaves out, and remembers what it says.
func (s *state) complete(item *Item) {
	switch item.Means {
	case family.MeansMode:
		s.remember(&item.Values)
	case family.MeansMove:
		item.Has &= family.About(item.Kind)
		s.remember(&item.Values)
		if missing := s.known[item.lineKind()] &^ item.Has &^ must; missing != 0 {
			s.fill(&item.Values, missing)
		}
	}
}

func (s *state) remember(v *Values) {
	said := v.Has & s.holding
	s.held.Has |= said
	for ; said != 0; said &= said - 1 {
		s.held.Number[first(said)] = v.Number[first(said)]
	}
}

func (s *state) fill(v *Values, missing family.FieldSet) {
	for ; missing != 0; missing &= missing - 1 {
		switch f := first(missing); {
		case !s.holding.Has(f):
			v.set(f, 0)
		case s.held.Has.Has(f):
			v.set(f, s.held.Number[f])
		}
	}
}
