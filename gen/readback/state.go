package readback

import (
	"math/bits"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
)

// state is the values that hold on until a line says otherwise.
type state struct {
	known   [lineKinds]reads.FieldSet // what the program tells of a kind
	holding reads.FieldSet
	held    Values
}

// lineKind is a kind of move or, of a select that is told in several lines, the
// change that one of them is about.
type lineKind uint8

// The selects of one change have numbers of their own.
const (
	frameSelect = lineKind(move.NumKinds) + iota
	loadSelect
	toolSelect
	lineKinds = int(iota) + move.NumKinds
)

func lineKindOf(kind move.Kind, when string) lineKind {
	switch when {
	case reads.WhenFrame:
		return frameSelect
	case reads.WhenLoad:
		return loadSelect
	case reads.WhenTool:
		return toolSelect
	}
	return lineKind(kind)
}

func (item *Item) lineKind() lineKind { return lineKindOf(item.Kind, item.When) }

func newState(r *reads.Reads) *state {
	s := &state{holding: holding | r.CarriesEntry(reads.MeansMode)}
	for _, kind := range move.Kinds {
		s.known[kind] = kept(r.Carries(kind)) & reads.About(kind)
	}
	for _, when := range r.Whens() {
		s.known[lineKindOf(move.Select, when)] = kept(r.CarriesWhen(when)) & reads.About(move.Select)
	}
	return s
}

// kept puts the field that a value is kept under in the place of the one that it
// is written in.
func kept(set reads.FieldSet) reads.FieldSet {
	for written, under := range map[reads.Field]reads.Field{
		reads.FrameNumber: reads.Frame, reads.ToolNumber: reads.Tool, reads.Name: reads.Number,
	} {
		if set.Has(written) {
			set = set.With(under)
		}
	}
	return set
}

// first is the first field of a set that is not empty.
func first(set reads.FieldSet) reads.Field { return reads.Field(bits.TrailingZeros64(uint64(set))) }

var (
	// holding are the fields that hold on where a line leaves them out, and so do
	// those of modes. Of the others such a line says 0: no fly-by, no time-out.
	holding = reads.Pose | reads.Chosen | reads.SetOf(reads.Speed)

	// must are the fields that a line has to say itself.
	must = reads.SetOf(reads.Signal, reads.Level, reads.Target)
)

// complete fills in what a line leaves out, and remembers what it says.
func (s *state) complete(item *Item) {
	switch item.Means {
	case reads.MeansMode:
		s.remember(&item.Values)
	case reads.MeansMove:
		item.Has &= reads.About(item.Kind)
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

func (s *state) fill(v *Values, missing reads.FieldSet) {
	for ; missing != 0; missing &= missing - 1 {
		switch f := first(missing); {
		case !s.holding.Has(f):
			v.set(f, 0)
		case s.held.Has.Has(f):
			v.set(f, s.held.Number[f])
		}
	}
}
