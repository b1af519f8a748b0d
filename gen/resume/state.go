package resume

import (
	"slices"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// State is what a job is like when one of its transfers is next.
type State struct {
	Transfer  int  // the one that is next, from 1
	Transfers int  // of the whole job
	Holding   bool // its part is in the gripper already

	Part     *layout.Part // that it carries; nil where the plan does not say
	ID       *string      // of that part; nil where it has none
	From, To move.Target  // the slots that it goes between
	Place    diag.Place   // of its entry in the plan

	Grids   []Grid   // every grid, in the plan's order
	Outputs []Output // that steps wrote before, by number

	Removed, Added int // parts that people took away or put in, as somebody said

	// Where the steps begin that follow the pick of this transfer's part, and
	// those that follow the place of the one before; zero for none.
	taken, put diag.Place
	ids        *layout.IDs // which parts are where; nil where no part has an id
}

// Grid is what stands in one grid.
type Grid struct {
	*layout.Grid
	Full  layout.Slots
	Lies  layout.Lies
	Holds *layout.Part // what stands there where the plan does not name it for the grid
}

// Output is an output other than the tool's, as the steps before left it.
type Output struct {
	Number int
	Level  bool
	Place  diag.Place // of the last step that wrote it
}

// Before is the state when transfer n, from 1 to the last, is next. Holding says
// that its part is in the gripper already. The layout is that of the whole job.
func Before(l *layout.Layout, n int, holding bool) *State {
	s := &State{Transfer: n, Transfers: l.Transfers(), Holding: holding}
	f := &follower{State: s, l: l, byName: map[string]*Grid{}}
	if e, _ := l.EntryOf(n - 1); e != nil {
		f.before, _ = e.Group(n - 1)
	}
	s.Grids = make([]Grid, len(l.Grids))
	for i, g := range l.Grids {
		s.Grids[i] = Grid{Grid: g, Full: append(layout.Slots(nil), g.Full...), Holds: g.Holds}
		f.byName[g.Name] = &s.Grids[i]
	}
	lies := l.Follow()
	for m := range expand.Moves(l) {
		if !f.see(&m) {
			break
		}
		if holding || m.Transfer < n || !m.Takes() { // what is next stands where it was
			lies.See(&m)
		}
	}
	for i := range s.Grids {
		s.Grids[i].Lies = *lies.Lies(s.Grids[i].Grid)
	}
	s.ids = lies.IDs()
	return s
}

// follower lets a move list go by up to the transfer that is next.
type follower struct {
	*State
	l      *layout.Layout
	byName map[string]*Grid
	before int // the first transfer of the group before the one that is next
}

// see takes in a move; false when nothing more is needed.
func (f *follower) see(m *move.Move) bool {
	switch {
	case m.Transfer == f.Transfer:
		return f.next(m)
	case m.Transfer > f.Transfer: // of the same group, and made meanwhile
		return true
	case m.Kind == move.Set && m.Role.Wanted(): // the gripper's own are as it is
		f.set(m)
	case m.Takes():
		f.take(m)
	case m.Puts():
		f.release(m)
	}
	if asks(m) && m.Transfer >= f.before && m.Transfer > 0 && f.put.IsZero() {
		f.put = m.Place
	}
	return true
}

// asks reports whether a move is a step of the plan that does anything but inform and move the arm.
func asks(m *move.Move) bool { return m.Role == move.Asked && does(m.Kind) }

// next takes in a move of the transfer that is next.
func (f *follower) next(m *move.Move) bool {
	switch {
	case m.Takes() && f.From.IsZero(): // of several in one descent the first
		f.From, f.Place, f.Part, f.ID = m.Target, m.Place, f.l.Carried(m), m.ID
		if f.Holding {
			f.take(m)
		}
	case m.Kind == move.Set && m.Role == move.AskedBefore && f.Holding && f.From.IsZero():
		f.set(m) // it came before the part was taken
	case m.Kind == move.Set && m.Role.Changing():
		f.set(m) // the tool of that transfer has to be on the flange
	case asks(m):
		if f.taken.IsZero() {
			f.taken = m.Place
		}
		if m.Kind == move.Set && f.Holding {
			f.set(m) // it followed the taking, and is left out
		}
	case m.Puts():
		f.To = m.Target
		return false
	}
	return true
}

func (f *follower) release(m *move.Move) {
	g := f.byName[m.Target.Grid]
	g.Put(g.Full, f.index(m))
	switch part, usual := f.l.Carried(m), g.Grid.Lies.Usual(); {
	case g.Part != nil || part == nil:
	case usual != nil:
		g.Holds = usual
	case g.Holds == nil || part.Size.Z > g.Holds.Size.Z:
		g.Holds = part // of several the tallest, as when the whole job is checked
	}
	f.put = diag.Place{} // steps before it followed the pick
}

func (f *follower) take(m *move.Move) {
	g := f.byName[m.Target.Grid]
	g.Take(g.Full, f.index(m))
}

func (f *follower) index(m *move.Move) int { return f.byName[m.Target.Grid].Index(m.Target.Slot) }

func (f *follower) set(m *move.Move) {
	now := Output{m.Signal, m.Level, m.Place}
	at, known := slices.BinarySearchFunc(f.Outputs, now, func(a, b Output) int { return a.Number - b.Number })
	if known {
		f.Outputs[at] = now
		return
	}
	f.Outputs = slices.Insert(f.Outputs, at, now)
}
