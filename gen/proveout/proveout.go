// Package proveout turns the list of a job into that of its prove-out: slow, lifted
// off everything that it could touch, with the gripper left alone. It comes between
// the list and all that is made of it, so that checks, times and programs are those
// of the prove-out itself.
package proveout

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// TopSpeed is the fastest that the tool centre point goes in a prove-out, mm/s:
// the limit of manual reduced speed in ISO 10218-1:2011, 5.6.2 (quoted from memory).
const TopSpeed = 250

// DefaultLift is how far slots and approach points are lifted where no lift is given,
// mm: clear of fixtures that people touch frames in (common practice, no source).
const DefaultLift = 50

// Options are those of a prove-out.
type Options struct {
	Speed float64 // mm/s, at most TopSpeed: no motion is faster, and none faster than a quarter of the plan's speed
	Lift  float64 // mm, of slots and of the points above them, in the direction in which these lie
	Grips bool    // the gripper works; otherwise it is left alone
	Steps bool    // outputs are set and inputs awaited as the plan asks; otherwise left out
}

// Empty reports whether the run carries no part: the gripper is left alone, or closes
// on air.
func (o Options) Empty() bool { return !o.Grips || o.Lift > 0 }

// Slowed is the speed of a motion that the plan gives this speed.
func (o Options) Slowed(speed float64) float64 { return min(speed/4, o.Speed) }

// Moves is the list of the prove-out. The tables are the job's: their tools say what hangs
// on the flange without a part. Away is the direction from the slot that a motion goes to to
// its approach point, in the motion's frame, of length 1.
func Moves(moves move.Seq, o Options, frames []move.Frame, tools []move.Tool, away func(*move.Move) geom.Vec) move.Seq {
	turned := make([]geom.Rot, len(frames))
	for i, f := range frames {
		turned[i] = f.Base.RPY.Rot()
	}
	spreads := make([]*move.Spread, len(tools))
	for i, t := range tools {
		if (t.CentreOfGravity != geom.Vec{} || t.Inertia != geom.Vec{}) {
			spreads[i] = &move.Spread{Centre: t.CentreOfGravity, Inertia: t.Inertia}
		}
	}
	return func(yield func(move.Move) bool) {
		r := &run{Options: o, turned: turned, tools: tools, spreads: spreads, away: away}
		for m := range moves {
			if r.takes(&m) && !yield(m) {
				return
			}
		}
	}
}

type run struct {
	Options
	turned   []geom.Rot // by frame
	tools    []move.Tool
	spreads  []*move.Spread // of the tools alone, by number
	away     func(*move.Move) geom.Vec
	n        int
	selected move.Move // the last select
	lifted   geom.Vec  // the last motion, so far, in the base
}

// takes changes a move to how the prove-out makes it; false for one that it
// leaves out.
func (r *run) takes(m *move.Move) bool {
	if r.LeavesOut(m.Kind, m.Role, m.Pulse) {
		return false
	}
	switch m.Kind {
	case move.Select:
		r.load(m)
		if r.repeats(m) {
			return false
		}
		if m.Shifts { // the arm stands where the last motion led
			m.Base.Vec = m.Base.Add(r.lifted)
		}
	case move.Travel, move.Straight:
		r.load(m)
		r.motion(m)
	case move.Grip, move.Release:
		if r.Empty() {
			m.Target = move.Target{} // in the air above its slot
		}
	case move.Set, move.Await, move.Dwell, move.Note:
	}
	r.n++
	m.N = r.n
	return true
}

// LeavesOut reports whether the prove-out leaves out a move of a kind and a role; pulse is
// that a dwell is how long a pulse lasts, which goes with its output.
func (o Options) LeavesOut(kind move.Kind, role move.Role, pulse bool) bool {
	switch role {
	case move.OpenFirst, move.OpenMore, move.OpenSettle, move.TakeHold, move.HoldMore, move.HoldSettle, move.LetGo, move.FreeMore, move.FreeSettle,
		move.AskFirst: // an opening gripper would drop what it holds
		return !o.Grips
	case move.AskHeld, move.AskLoaded:
		return o.Empty()
	case move.AskedBefore, move.Asked:
		return !o.Steps && (kind == move.Set || kind == move.Await || pulse)
	case move.LeaveTool, move.ChangeTool, move.FetchTool:
		return false // a change is made as a whole, or the arm would drive one tool into another's place
	case move.ToStart, move.LeaveDestination, move.ClearFirst, move.EnterSource, move.LeaveSource, move.EnterDestination, move.OverSource, move.DownSource, move.UpSource, move.ClearLoaded, move.OverDestination, move.DownDestination,
		move.UpDestination, move.ClearLast, move.Selecting:
	}
	return false
}

// load takes the part off the flange where none is carried.
func (r *run) load(m *move.Move) {
	if r.Empty() {
		t := &r.tools[m.ToolNumber-1]
		m.Load, m.Spread = t.Mass, r.spreads[m.ToolNumber-1]
	}
}

// repeats reports whether a select says nothing new: without a part the load does
// not change.
func (r *run) repeats(m *move.Move) bool {
	t := &r.selected
	same := t.Kind == move.Select && t.FrameNumber == m.FrameNumber && t.ToolNumber == m.ToolNumber && t.Load == m.Load
	*t = *m
	return same
}

// motion slows a motion down and lifts it.
func (r *run) motion(m *move.Move) {
	m.Speed = r.Slowed(m.Speed)
	if r.lifted = (geom.Vec{}); m.Target.Grid == "" {
		return
	}
	away := r.away(m)
	r.lifted = r.turned[m.FrameNumber-1].Apply(away).Scale(r.Lift)
	m.At.Vec = m.At.Add(away.Scale(r.Lift))
	m.Base.Vec = m.Base.Add(r.lifted)
}

// Lines is a list in which every travel is a straight line: for a controller that
// chooses the speed of its travels itself.
func Lines(moves move.Seq) move.Seq {
	return func(yield func(move.Move) bool) {
		for m := range moves {
			if m.Kind == move.Travel {
				m.Kind = move.Straight
			}
			if !yield(m) {
				return
			}
		}
	}
}
