// Package expand turns transfers into moves, lazily, a batch at a time: ten million
// moves need no more memory than ten.
package expand

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// Moves is the list of a layout that was resolved without an error. Every pass over
// it gives the same moves.
func Moves(l *layout.Layout) move.Seq { return Rest(l, Whole) }

// Start is where a job begins. Transfers that are left out keep their numbers.
type Start struct {
	Transfer int  // the first that is made, from 1
	Begin    bool // after the steps of "begin"; otherwise they were done before
	// If the layout's Held says so, the gripper holds the first transfer's part
	// already: then that transfer begins with the way to its destination.
}

// Whole is the start of a whole job.
var Whole = Start{Transfer: 1, Begin: true}

// Rest is the list of a job from a start on.
func Rest(l *layout.Layout, from Start) move.Seq { return move.Single(Batches(l, from)) }

// Batches is Rest in batches.
func Batches(l *layout.Layout, from Start) move.Batches {
	return func(yield func([]move.Move) bool) {
		expand(l, from, make([]move.Move, 0, move.BatchSize), func(piece []move.Move) []move.Move {
			if !yield(piece) {
				return nil
			}
			return piece[:0]
		})
	}
}

// expand makes the list in pieces as large as the first.
func expand(l *layout.Layout, from Start, first []move.Move, hand hand) {
	x := &expander{l: l, from: from, by: l.Figures(nil, nil), out: newOutput(first, hand)}
	x.run()
}

type expander struct {
	l    *layout.Layout
	from Start
	out  output

	// where the arm stands and what it does, as far as the list says so
	at       position
	gripper  gripper
	selected selection // by the last select
	carried  *layout.Part
	hangs    hanging  // how it hangs in the gripper
	centre   geom.Vec // of gravity, of what is selected
	inertia  geom.Vec // likewise
	transfer int      // the one being made; 0 outside
	done     int      // transfers made
	leg      int
	place    diag.Place
	by       *layout.Figures // that rule what is done now
	inside   inside
}

// position is the arm's present pose, in the base.
type position struct {
	base  move.Point
	known bool
}

// samePose is how near two poses are that count as one: far below what any
// arm can resolve, far above the rounding in how they were calculated.
const samePose = 1e-6 // mm and degrees

func (p *position) is(q *move.Point) bool {
	return p.known && math.Abs(p.base.X-q.X) < samePose && p.base.Dist(q.Vec) < samePose &&
		math.Abs(p.base.Roll-q.Roll) < samePose && math.Abs(p.base.Pitch-q.Pitch) < samePose && math.Abs(p.base.Yaw-q.Yaw) < samePose
}

type gripper uint8

const (
	unknown gripper = iota // at the start
	open
	closed
)

// selection is what a select selects: the frame is that of the move after it.
type selection struct {
	frame *layout.Frame
	tool  *layout.Tool
	load  float64
}

func (x *expander) run() {
	if held := x.l.Held; held != nil {
		x.gripper = closed
		x.hang(held.Grid, held.Slot, held.Part)
	}
	if x.begin() && x.askFirst() && x.entries() && x.last() && x.steps(x.l.End, move.Asked) {
		x.out.done()
	}
}

func (x *expander) begin() bool { return !x.from.Begin || x.steps(x.l.Begin, move.Asked) }

// askFirst is the first move behind the steps of "begin", where the gripper can be asked:
// nothing may be held, or what a resumed job begins with.
func (x *expander) askFirst() bool {
	x.place = x.by.ToolPlace
	return x.ask(move.AskFirst, x.l.Held != nil)
}

func (x *expander) entries() bool {
	for _, e := range x.l.Entries {
		x.place = e.Place
		going := x.byLeg
		if e.ByPart {
			going = x.byPart
		}
		if !going(e) {
			return false
		}
	}
	return true
}

// byLeg takes every part along one leg before the next leg begins.
func (x *expander) byLeg(e *layout.Entry) bool {
	for i := range e.Legs {
		from, to := e.Legs[i].From.Cursor(), e.Legs[i].To.Cursor()
		for range e.Parts {
			if !x.carry(e, i, &from, &to) {
				return false
			}
		}
	}
	return true
}

// byPart takes each part along all legs before the next part starts.
func (x *expander) byPart(e *layout.Entry) bool {
	type pair struct{ from, to layout.Cursor }
	legs := make([]pair, len(e.Legs))
	for i := range e.Legs {
		legs[i] = pair{e.Legs[i].From.Cursor(), e.Legs[i].To.Cursor()}
	}
	for range e.Parts {
		for i := range legs {
			if !x.carry(e, i, &legs[i].from, &legs[i].to) {
				return false
			}
		}
	}
	return true
}

// carry is one transfer: the next slot of one side to the next of the other.
func (x *expander) carry(e *layout.Entry, leg int, from, to *layout.Cursor) bool {
	source, ok := from.Next()
	destination, also := to.Next()
	if !ok || !also {
		return false // cannot be: both sides were counted
	}
	if x.done++; x.done < x.from.Transfer {
		return true
	}
	l := &e.Legs[leg]
	x.transfer, x.leg = x.done, leg+1
	return x.take(e, l, source) && x.put(e, l, destination) && x.steps(l.Put, move.Asked) && x.optionalStop()
}

// take picks the part, unless the gripper holds it from the start.
func (x *expander) take(e *layout.Entry, l *layout.Leg, s slot.Slot) bool {
	if x.l.Held != nil && x.transfer == x.from.Transfer {
		return true
	}
	return x.pick(e, l, s) && x.steps(l.Taken, move.Asked)
}

func (x *expander) pick(e *layout.Entry, l *layout.Leg, s slot.Slot) bool {
	g := l.From.Grid
	x.by = x.l.Figures(e, g)
	p := x.above(g, s)
	return x.toSource(&p) && x.over(&p, l.OverFrom, &sourceRoles) && x.down(g, s) && x.grip(g, s, e.Part) && x.up(&p, move.UpSource)
}

func (x *expander) put(e *layout.Entry, l *layout.Leg, s slot.Slot) bool {
	g := l.To.Grid
	x.by = x.l.Figures(e, g)
	p := x.above(g, s)
	return x.toDestination(&p) && x.over(&p, l.OverTo, &destinationRoles) && x.ask(move.AskLoaded, true) && x.lower(g, s) &&
		x.release(target(g, s, false)) && x.up(&p, move.UpDestination)
}

// last leaves the last grid when everything is done. That belongs to no transfer.
func (x *expander) last() bool {
	x.transfer, x.leg = 0, 0
	x.causedBy(x.by.EntryPlace)
	if !x.leave(nil) {
		return false
	}
	x.causedBy(x.by.ClearPlace)
	return x.clear(move.ClearLast)
}

// causedBy is the place of the moves that follow, if it is one.
func (x *expander) causedBy(place diag.Place) {
	if !place.IsZero() {
		x.place = place
	}
}
