package reads

import (
	"gridferry/gen/move"
)

// Modal is the values that hold until a line says otherwise.
type Modal struct {
	compared [lineKinds]FieldSet // what the program says of a kind
	modal    FieldSet
	held     Values
}

// lineKind is a kind of move or, of a select that is written in several lines, the
// change that one of them is about.
type lineKind uint8

// The selects of one change have numbers of their own.
const (
	frameSelect = lineKind(move.NumKinds) + iota
	loadSelect
	toolSelect
	handSelect
	lineKinds = int(iota) + move.NumKinds
)

func lineKindOf(kind move.Kind, when string) lineKind {
	switch when {
	case WhenFrame:
		return frameSelect
	case WhenLoad:
		return loadSelect
	case WhenTool:
		return toolSelect
	case WhenHand:
		return handSelect
	}
	return lineKind(kind)
}

func (item *Item) lineKind() lineKind { return lineKindOf(item.Kind, item.When) }

// NewModal returns the values before the first line of a program.
func NewModal(r *Reads) *Modal {
	s := &Modal{modal: modal | r.CarriesEntry(MeansMode)}
	for _, kind := range move.Kinds {
		carries := r.Carries(kind)
		if carries&SetOf(Point, PointNumber) != 0 {
			carries |= r.CarriesEntry(MeansPoint)
		}
		s.compared[kind] = carries.Kept() & About(kind)
	}
	for _, when := range r.Whens() {
		s.compared[lineKindOf(move.Select, when)] = r.CarriesWhen(when).Kept() & About(move.Select)
	}
	return s
}

// Compared is the fields that a line is compared by: what the program says of its kind.
func (s *Modal) Compared(item *Item) FieldSet { return s.compared[item.lineKind()] }

// ComparedOf is the fields that the lines of a kind of move are compared by, those of
// all selects together.
func (s *Modal) ComparedOf(kind move.Kind) FieldSet {
	if kind == move.Select {
		return s.compared[kind] | s.compared[frameSelect] | s.compared[loadSelect] | s.compared[toolSelect] | s.compared[handSelect]
	}
	return s.compared[kind]
}

var (
	// modal are the fields that hold where a line leaves them out, and so do those of
	// modes. Of the others such a line says 0: no fly-by, no time-out.
	modal = Pose | Chosen | SetOf(Speed, Shoulder, Elbow, Wrist)

	// must are the fields that a line has to say itself.
	must = SetOf(Signal, Level, Target, N)
)

// Complete fills in what a line leaves out, and remembers what it says.
func (s *Modal) Complete(item *Item) {
	switch item.Means {
	case MeansMode, MeansBegun:
		s.remember(&item.Values)
	case MeansMove:
		item.Has &= About(item.Kind)
		s.remember(&item.Values)
		if missing := s.Compared(item) &^ item.Has &^ must; missing != 0 {
			s.fill(&item.Values, missing)
		}
	case MeansText, MeansFrame, MeansTool, MeansPoint: // nothing that the next move keeps
	}
}

func (s *Modal) remember(v *Values) {
	said := v.Has & s.modal
	s.held.Has |= said
	for ; said != 0; said &= said - 1 {
		s.held.Number[said.First()] = v.Number[said.First()]
	}
}

func (s *Modal) fill(v *Values, missing FieldSet) {
	for ; missing != 0; missing &= missing - 1 {
		switch f := missing.First(); {
		case !s.modal.Has(f):
			v.Set(f, 0)
		case s.held.Has.Has(f):
			v.Set(f, s.held.Number[f])
		}
	}
}
