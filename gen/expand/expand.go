// Package expand turns transfers into moves, lazily, a batch at a time: ten million
// moves need no more memory than ten.
package expand

import (
	"math"

	"gridferry/gen/layout"
	"gridferry/gen/move"
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
	return func(yield func([]move.Move) bool) { newExpander(l, from, move.BatchSize, yield).run() }
}

// newExpander makes the list in batches of a size.
func newExpander(l *layout.Layout, from Start, size int, yield func([]move.Move) bool) *expander {
	x := &expander{l: l, from: from, by: l.Figures(nil, nil), fitted: l.ToolAt(from.Transfer), lying: l.Lying(), out: newOutput(size, yield), grippers: make([]gripper, len(l.Tools))}
	if l.HasIDs() {
		x.ids = l.FirstIDs()
	}
	return x
}

type expander struct {
	l    *layout.Layout
	from Start
	out  output

	// where the arm stands and what it does, as far as the list says so
	at       position
	lineFrom position  // where the straight line began that led there; not known behind a travel
	grippers []gripper // by tool, from 0: of every zone its own
	selected selection // by the last select
	left     int       // how many points were left out, since the arm stood there
	carried  []layout.Hung
	hung     layout.Hung   // what was taken last
	lying    *layout.Lying // how the other parts lie
	spread   *move.Spread  // of the load of what is selected
	spreads  spreads
	transfer int     // the one being made; 0 outside
	together int     // the first of its group, where that has several; 0 otherwise
	id       *string // of its part
	done     int     // transfers made, with those of the present group
	leg      int
	place    diag.Place
	listed   int             // where the plan names the worklist in which the place is; 0 where it is in the plan itself
	by       *layout.Figures // that rule what is done now
	inside   inside
	fitted   *layout.Tool // on the flange: its first zone, where it has some
	byHand   bool         // a person fitted it, and nothing has moved since
	zone     int          // of the tool, from 0, that works
	zones    int          // in which the entry carries parts
	again    again
	group    group       // of parts that are carried now
	ids      *layout.IDs // of the parts in the slots; nil where no part has one
	note     string      // that stands in the line of a worklist, and is still to be said
	listedAt int         // where the plan names the worklist that is worked off; 0 for none
}

// position is the arm's present pose, in the base.
type position struct {
	base  move.Point
	tool  *layout.Tool // whose TCP stands there
	known bool
}

// samePose is how near two poses are that count as one: far below what any
// arm can resolve, far above the rounding in how they were calculated.
const samePose = 1e-6 // mm and degrees

func (p *position) is(tool *layout.Tool, q *move.Point) bool {
	if !p.known || p.tool == tool {
		return p.known && same(&p.base, q)
	}
	at := tool.At(p.tool, p.base)
	return same(&at, q) || at.Dist(q.Vec) < samePose && at.Rot().T().Mul(q.Rot()).Angle() < samePose
}

func same(p, q *move.Point) bool {
	return math.Abs(p.X-q.X) < samePose && math.Abs(p.Z-q.Z) < samePose && p.Dist(q.Vec) < samePose && // mostly the first two tell
		math.Abs(p.Roll-q.Roll) < samePose && math.Abs(p.Pitch-q.Pitch) < samePose && math.Abs(p.Yaw-q.Yaw) < samePose
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
		x.grippers[x.tool().Number-1] = closed
		_, base := held.Grid.Points(held.Slot)
		x.hang(held.Grid, held.Slot, held.Part, x.tool(), base.RPY)
	}
	if x.begin() && x.askFirst() && x.entries() && x.last() && x.steps(x.l.End, move.Asked) {
		x.out.done()
	}
}

func (x *expander) begin() bool { return !x.from.Begin || x.steps(x.l.Begin, move.Asked) }

// askFirst is the first move behind the steps of "begin", where the gripper can be asked:
// nothing may be held, or what a resumed job begins with.
func (x *expander) askFirst() bool {
	defer func(by *layout.Figures) { x.by = by }(x.by)
	x.by = x.l.PicksAt(x.from.Transfer)
	x.restOn(x.by.ToolPlace)
	return x.askAll(x.l.Held != nil)
}

// askAll asks every gripper on the flange whether it holds nothing or, the one that works,
// whether it holds something.
func (x *expander) askAll(held bool) bool {
	for _, t := range x.l.UsedTools() {
		if t.Beside(x.tool()) && !x.ask(t, move.AskFirst, held && t == x.tool()) {
			return false
		}
	}
	return true
}

func (x *expander) entries() bool {
	for _, e := range x.l.Entries {
		x.zones = min(e.AtOnce, e.Parts)
		x.restOn(e.Place)
		going := x.byLeg
		switch {
		case e.Listed != nil:
			going = x.byList
		case e.ByPart:
			going = x.byPart
		}
		if !going(e) {
			return false
		}
	}
	return true
}

// last leaves the last grid when everything is done. That belongs to no transfer.
func (x *expander) last() bool {
	x.leg, x.zone = 0, 0
	x.make(0)
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
		x.restOn(place)
	}
}

// restOn is the place of the moves that follow.
func (x *expander) restOn(place diag.Place) {
	if x.place, x.listed = place, x.listedAt; place.File == x.l.File {
		x.listed = 0
	}
}

// make is the transfer of the moves that follow; 0 for none.
func (x *expander) make(transfer int) {
	x.transfer, x.together = transfer, 0
	if transfer > 0 && len(x.group.from) > 1 {
		x.together = x.group.first
	}
	x.id = x.l.ID(x.idOf(transfer - x.group.first))
}
