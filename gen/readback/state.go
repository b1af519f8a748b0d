package readback

import (
	"gridferry/gen/family"
	"gridferry/gen/move"
)

// state is the values that hold on until a line says otherwise.
type state struct {
	known   map[lineKind]family.FieldSet // what the program tells of a kind
	holding family.FieldSet
	held    Values
}

// lineKind is a kind of move and, of a select that is told in several lines, the
// change that one of them is about.
type lineKind struct {
	move.Kind
	when string
}

func (item *Item) lineKind() lineKind { return lineKind{item.Kind, item.When} }

func newState(reads *family.Reads) *state {
	s := &state{known: map[lineKind]family.FieldSet{}, holding: holding | reads.CarriesEntry(family.MeansMode)}
	for _, kind := range move.Kinds {
		s.known[lineKind{Kind: kind}] = kept(reads.Carries(kind)) & about(kind)
	}
	for _, when := range reads.Whens() {
		s.known[lineKind{move.Select, when}] = kept(reads.CarriesWhen(when)) & about(move.Select)
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

func setOf(fields ...family.Field) family.FieldSet {
	var set family.FieldSet
	for _, f := range fields {
		set = set.With(f)
	}
	return set
}

var (
	place = setOf(family.ReadX, family.ReadY, family.ReadZ, family.ReadRoll, family.ReadPitch, family.ReadYaw, family.ReadTurn,
		family.ReadTurn1, family.ReadTurn2, family.ReadTurn3, family.ReadQW, family.ReadQX, family.ReadQY, family.ReadQZ,
		family.ReadRX, family.ReadRY, family.ReadRZ)
	chosen = setOf(family.ReadFrame, family.ReadTool, family.ReadLoad)

	// holding are the fields that hold on where a line leaves them out, and so do
	// those of modes. Of the others such a line says 0: no blend, no time-out.
	holding = place | chosen | setOf(family.ReadSpeed)

	// must are the fields that a line has to say itself.
	must = setOf(family.ReadSignal, family.ReadLevel, family.ReadTarget)
)

// about is the fields that mean something for a kind of move. A row of a table
// has all its columns, whatever it is.
func about(kind move.Kind) family.FieldSet {
	switch kind {
	case move.Select:
		return chosen
	case move.Travel, move.Straight:
		return place | chosen | setOf(family.ReadSpeed, family.ReadBlend, family.ReadTarget)
	case move.Grip, move.Release, move.Set:
		return setOf(family.ReadSignal, family.ReadLevel)
	case move.Await:
		return setOf(family.ReadSignal, family.ReadLevel, family.ReadTime, family.ReadGoOn)
	case move.Dwell:
		return setOf(family.ReadTime)
	}
	return 0
}

// complete fills in what a line leaves out, and remembers what it says.
func (s *state) complete(item *Item) {
	switch item.Means {
	case family.MeansMode:
		s.remember(&item.Values)
	case family.MeansMove:
		item.Has &= about(item.Kind)
		s.remember(&item.Values)
		s.fill(&item.Values, s.known[item.lineKind()]&^item.Has&^must)
	}
}

func (s *state) remember(v *Values) {
	for f := family.NoField + 1; f < family.Fields; f++ {
		if v.Has.Has(f) && s.holding.Has(f) {
			s.held.set(f, v.Number[f])
		}
	}
}

func (s *state) fill(v *Values, missing family.FieldSet) {
	for f := family.NoField + 1; missing != 0 && f < family.Fields; f++ {
		switch {
		case !missing.Has(f):
		case !s.holding.Has(f):
			v.set(f, 0)
		case s.held.Has.Has(f):
			v.set(f, s.held.Number[f])
		}
	}
}
