package margin

import (
	"cmp"
	"slices"

	"gridferry/gen/arm"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// Slots is the margins with which a list works at the slots of its grids: at each slot, and at its approach point.
type Slots struct {
	*Meter
	tools  []*layout.Tool
	grids  map[string]*layout.Grid
	least  map[string][]Margin // by grid and slot; None where the list does not work
	at     stand               // where the arm is,
	before stand               // and where it was a motion before
	known  map[*arm.Readings]Margin
}

// stand is the arm at the end of a motion.
type stand struct {
	readings *arm.Readings
	target   move.Target
	tool     int
}

// NewSlots is for a list of a layout that has an arm.
func NewSlots(l *layout.Layout) *Slots {
	s := &Slots{Meter: NewMeter(l), tools: l.Tools, grids: map[string]*layout.Grid{}, least: map[string][]Margin{}, known: map[*arm.Readings]Margin{}}
	for _, g := range l.Grids {
		s.grids[g.Name] = g
	}
	return s
}

// See takes in a motion with its readings, a grip or a release.
func (s *Slots) See(m *move.Move) {
	switch {
	case m.Kind.IsMotion():
		if s.foot == nil && m.Joints != nil {
			s.Begin(m.Joints)
		}
		s.before, s.at = s.at, stand{m.Joints, m.Target, m.ToolNumber}
	case m.Takes() || m.Puts():
		s.works(m.Target)
	}
}

// works takes in that the arm works at a slot.
func (s *Slots) works(at move.Target) {
	g := s.grids[at.Grid]
	if s.least[at.Grid] == nil {
		s.least[at.Grid] = make([]Margin, g.Size())
	}
	least := &s.least[at.Grid][g.Index(at.Slot)]
	for _, stands := range []stand{s.at, s.before} {
		if stands.readings == nil || stands.target.Grid != at.Grid {
			continue
		}
		if m := s.leastOf(&stands); s.Less(m, *least) {
			*least = m
		}
	}
}

// leastOf is the least margin of one pose. The list has one and the same readings for poses to which it goes often.
func (s *Slots) leastOf(at *stand) Margin {
	const most = 1 << 12
	if m, ok := s.known[at.readings]; ok {
		return m
	}
	all := s.Of(at.readings, s.tools[at.tool-1])
	if len(s.known) >= most {
		clear(s.known)
	}
	s.known[at.readings] = s.Least(&all)
	return s.known[at.readings]
}

// In is the least margin at each slot of a grid, by index; nil where the list does not work there.
func (s *Slots) In(g *layout.Grid) []Margin { return s.least[g.Name] }

// Thing is what leaves least at some slots of a grid.
type Thing struct {
	Margin
	Slot  int // the index of the slot where it leaves least of all
	Slots int // how many they are
}

// Things are what leaves least at the slots of a grid at which the list works: that which leaves least of all first.
func (s *Slots) Things(g *layout.Grid) (things []Thing) {
	type sort struct {
		kind             Kind
		joint, limb, box int32
	}
	known := map[sort]int{}
	for i, m := range s.In(g) {
		if m.Kind == None {
			continue
		}
		what := sort{m.Kind, int32(m.Joint), m.Limb, m.Box}
		k, ok := known[what]
		if !ok {
			k = len(things)
			known[what], things = k, append(things, Thing{m, i, 0})
		}
		if things[k].Slots++; s.Less(m, things[k].Margin) {
			things[k].Margin, things[k].Slot = m, i
		}
	}
	slices.SortStableFunc(things, func(a, b Thing) int { return cmp.Compare(s.weight(a.Margin), s.weight(b.Margin)) })
	return things
}
