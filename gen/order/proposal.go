// Package order proposes a shorter or quicker order for the transfers of a plan, says what
// it saves, and writes it as lists of slots that can be pasted into the plan.
package order

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Proposal is a plan's entries in the shortest or quickest order that is found, beside the
// orders that people write.
type Proposal struct {
	Layout  *layout.Layout // the plan's own, with its entries in the new order
	By      layout.Weight  // by what an order is shorter than another
	Entries []Entry
	// The whole job as it is written and in the new order: as layout.Travel between slots, and
	// seconds as package timing estimates them; 0 where that was not asked for.
	Written, Found Whole
	Waits          int // for inputs, which the seconds do not hold
}

// Whole is a whole job in one order.
type Whole struct{ Length, Seconds float64 }

// Entry is one entry of transfers.
type Entry struct {
	Place diag.Place
	Stops []string
	List  string // the file of a worklist; "" for none
	Parts int
	Pose  string      // that makes every order as long as any other; "" for none
	Kept  layout.Kept // why it keeps its order; NotKept where it has a new one

	// How far it goes, or how long, in each order, from where the arm stands in the new one.
	Written, ByRow, ByColumn, Serpentine, Found layout.Travel
}

// Propose looks for the order.
func Propose(l *layout.Layout, by layout.Weight) *Proposal {
	changed := *l
	p := &Proposal{Layout: &changed, By: by}
	changed.Entries = nil
	work := 0
	written, arm := l.ArmBefore(0, l.ToolAt(1)), l.ArmBefore(0, l.ToolAt(1)) // where the arm stands in either order
	for _, e := range l.Entries {
		now, out := propose(l, e, arm, by, work)
		work += out.Found.Work
		changed.Entries = append(changed.Entries, now)
		p.Entries = append(p.Entries, out)
		if e.Parts > 0 {
			p.Written.Length += l.TravelOf(e, written, by).Length
			p.Found.Length += l.TravelOf(now, arm, by).Length
			written, arm = l.EndOf(e), l.EndOf(now)
		}
	}
	return p
}

// propose is one entry in its new order, and what is to be said about it; work is
// what the searches before it have cost.
func propose(l *layout.Layout, e *layout.Entry, arm *move.Point, by layout.Weight, work int) (*layout.Entry, Entry) {
	out := Entry{Place: e.Place, Parts: e.Parts, Kept: l.Keeps(e, work)}
	for i := range e.Stops {
		out.Stops = append(out.Stops, e.Stops[i].Grid.Name)
	}
	if e.Listed != nil {
		out.List = e.Listed.Name
	} else if p := l.OnEveryWay(e); p != nil {
		out.Pose = p.Name
	}
	out.Written = l.TravelOf(e, arm, by)
	if out.Kept != layout.NotKept {
		return e, out
	}
	out.ByRow = l.TravelOf(l.InOrder(e, layout.ByRow), arm, by)
	out.ByColumn = l.TravelOf(l.InOrder(e, layout.ByColumn), arm, by)
	out.Serpentine = l.TravelOf(l.InOrder(e, layout.Serpentine), arm, by)
	now, travel := l.Shortened(e, arm, layout.Sides{From: true, To: true}, by, true)
	out.Found = travel
	return now, out
}

// Changed reports whether any entry has a new order.
func (p *Proposal) Changed() bool {
	for i := range p.Entries {
		if p.Entries[i].Kept == layout.NotKept {
			return true
		}
	}
	return false
}

// share is how much less b is than a, per cent of a.
func share(a, b float64) float64 {
	if a == 0 {
		return 0
	}
	return (a - b) / a * 100
}

// above is how far the new order may be above the shortest there is, per cent.
func (e *Entry) above() float64 {
	if e.Found.Least <= 0 {
		return 0
	}
	return (e.Found.Length - e.Found.Least) / e.Found.Least * 100
}
