package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Travel is what is known of the travels of a list: what lies between their ends, and
// which family says so.
type Travel struct {
	Path   move.Path
	Family string
}

// Travels shows the moves to the rules that look at what lies between the ends of a
// travel, where a family says more of that than the list does.
func Travels(l *layout.Layout, moves move.Batches, list *diag.List, t Travel) {
	c := newContext(l, list)
	c.travel = t
	var eyes []Watcher
	for _, r := range []*Rule{&reach, &alongLine, &armWay, &keepOut, &collision} {
		if w := r.Watch(c); w != nil {
			eyes = append(eyes, w)
		}
	}
	c.watch(moves, eyes)
	c.found.done()
}

// onTheWay says how sure it is that something is met on the motion that is seen, and on
// which way.
func (s *Scene) onTheWay() (is, where string) {
	if s.between == move.AxesPath {
		return "may be", "while each axis moves for itself on the way to"
	}
	return "is", "on the straight line to"
}

// advise is what can be done about a travel whose path is known.
func (s *Scene) advise(r *report, m *move.Move) {
	switch {
	case m.Kind == move.Straight:
	case s.between == move.AxesPath:
		r.hint("with %q a travel may pass any place between the lowest and the highest X, Y and Z of its ends; approach from higher up, or put the clear pose where nothing stands between them", s.travel.Family)
	case s.between == move.LinePath:
		r.hint("with %q a travel is a straight line; put the clear pose higher, or where the lines from it lead past", s.travel.Family)
	}
}
