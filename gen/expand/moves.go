package expand

import (
	"fmt"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

func target(g *layout.Grid, s slot.Slot, approach bool) move.Target {
	return move.Target{Grid: g.Name, Slot: s, Layered: g.Layered(), Approach: approach}
}

// clear travels to the clear waypoint, where there is one.
func (x *expander) clear(role move.Role) bool {
	w := x.l.Motion.Clear
	if w == nil {
		return true
	}
	return x.goTo(move.Move{
		Kind: move.Travel, Role: role, Target: move.Target{Waypoint: w.Name},
		At: w.In, Base: w.Base, Speed: x.l.Motion.Travel,
	}, w.Frame)
}

func (x *expander) approach(g *layout.Grid, s slot.Slot, role move.Role) bool {
	return x.above(g, s, move.Move{Kind: move.Travel, Role: role, Speed: x.l.Motion.Travel})
}

func (x *expander) up(g *layout.Grid, s slot.Slot, role move.Role) bool {
	return x.above(g, s, move.Move{Kind: move.Straight, Role: role, Speed: x.l.Motion.Near})
}

// above goes to the approach point of a slot as m says.
func (x *expander) above(g *layout.Grid, s slot.Slot, m move.Move) bool {
	in, base := g.Points(s, x.l.Motion.Approach)
	m.Target, m.At, m.Base = target(g, s, true), in, base
	return x.goTo(m, g.Frame)
}

func (x *expander) down(g *layout.Grid, s slot.Slot, role move.Role) bool {
	in, base := g.Points(s, 0)
	return x.goTo(move.Move{Kind: move.Straight, Role: role, Target: target(g, s, false), At: in, Base: base, Speed: x.l.Motion.Near}, g.Frame)
}

// goTo moves the arm unless it is there already, and tells frame, tool and
// load first where they changed.
func (x *expander) goTo(m move.Move, frame *layout.Frame) bool {
	if x.at.is(m.Base) {
		return true
	}
	x.at = position{m.Base, true}
	return x.selectFor(frame) && x.emit(x.tell(m))
}

// selectFor tells frame, tool and load where they are not what the list told
// last.
func (x *expander) selectFor(frame *layout.Frame) bool {
	now := selection{frame, x.l.Motion.Tool, x.load()}
	if now == x.told {
		return true
	}
	x.told = now
	return x.emit(x.tell(move.Move{Kind: move.Select, Role: move.Telling}))
}

// tell writes the present frame, tool and load on a move.
func (x *expander) tell(m move.Move) move.Move {
	m.Frame, m.FrameNumber = x.told.frame.Name, x.told.frame.Number
	m.Tool, m.ToolNumber = x.told.tool.Name, x.told.tool.Number
	m.Load = x.told.load
	return m
}

// load is what hangs on the flange, kg.
func (x *expander) load() float64 {
	load := x.l.Motion.Tool.Mass
	if x.carried != nil {
		load += x.carried.Mass
	}
	return load
}

// openFirst opens a jaw that is not known to be open. Where nothing was told
// yet, the tool is: its output is about to be written.
func (x *expander) openFirst(next *layout.Frame) bool {
	if x.gripper == open {
		return true
	}
	return (x.told.tool != nil || x.selectFor(next)) && x.release(move.Target{})
}

func (x *expander) grip(g *layout.Grid, s slot.Slot, part *layout.Part) bool {
	x.carried = part
	return x.act(move.Grip, closed, x.l.Motion.Tool.Grip, target(g, s, false))
}

func (x *expander) release(at move.Target) bool {
	x.carried = nil
	return x.act(move.Release, open, x.l.Motion.Tool.Release, at)
}

// act works the gripper and waits until it has settled.
func (x *expander) act(kind move.Kind, becomes gripper, s layout.Signal, at move.Target) bool {
	if x.gripper == becomes {
		return true
	}
	x.gripper = becomes
	tool := x.l.Motion.Tool
	role, settle := actRoles(kind, at)
	m := move.Move{Kind: kind, Role: role, Target: at, Tool: tool.Name, ToolNumber: tool.Number, Signal: s.Output, Level: s.Level}
	if !x.emit(m) {
		return false
	}
	return s.Settle == 0 || x.emit(move.Move{Kind: move.Dwell, Role: settle, Seconds: s.Settle})
}

// actRoles is why the gripper works, and why it is waited for.
func actRoles(kind move.Kind, at move.Target) (act, settle move.Role) {
	switch {
	case kind == move.Grip:
		return move.TakeHold, move.HoldSettle
	case at.IsZero():
		return move.OpenFirst, move.OpenSettle
	default:
		return move.LetGo, move.FreeSettle
	}
}

// steps does what the plan asks for beside carrying.
func (x *expander) steps(steps []layout.Step) bool {
	was := x.place
	for _, s := range steps {
		x.place = s.Place
		m := move.Move{Kind: s.Kind, Role: move.Asked, Signal: s.Signal, Level: s.Level, GoOn: s.GoOn, Seconds: s.Seconds, Text: s.Text}
		if !x.emit(m) {
			return false
		}
	}
	x.place = was
	return true
}

// optionalStop ends a transfer where the plan asks for that.
func (x *expander) optionalStop() bool {
	at := x.l.Motion.StopPlace
	if at.IsZero() {
		return true
	}
	was := x.place
	x.place = at
	going := x.emit(move.Move{Kind: move.Note, Role: move.Asked, Pause: true, Text: fmt.Sprintf("optional stop after transfer %d", x.transfer)})
	x.place = was
	return going
}

func (x *expander) emit(m move.Move) bool {
	m.Transfer, m.Leg, m.Place = x.transfer, x.leg, x.place
	return x.out.put(m)
}
