package expand

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

func target(g *layout.Grid, s slot.Slot, approach bool) move.Target {
	return move.Target{Grid: g.Name, Slot: s, Layered: g.Layered(), Approach: approach}
}

// clear travels to the clear waypoint, where there is one.
func (x *expander) clear() bool {
	w := x.l.Motion.Clear
	if w == nil {
		return true
	}
	return x.goTo(move.Move{
		Kind: move.Travel, Target: move.Target{Waypoint: w.Name},
		At: w.In, Base: w.Base, Speed: x.l.Motion.Travel,
	}, w.Frame)
}

func (x *expander) approach(g *layout.Grid, s slot.Slot) bool {
	return x.above(g, s, move.Travel, x.l.Motion.Travel)
}

func (x *expander) up(g *layout.Grid, s slot.Slot) bool {
	return x.above(g, s, move.Straight, x.l.Motion.Near)
}

func (x *expander) above(g *layout.Grid, s slot.Slot, kind move.Kind, speed float64) bool {
	in, base := g.Points(s, x.l.Motion.Approach)
	return x.goTo(move.Move{Kind: kind, Target: target(g, s, true), At: in, Base: base, Speed: speed}, g.Frame)
}

func (x *expander) down(g *layout.Grid, s slot.Slot) bool {
	in, base := g.Points(s, 0)
	return x.goTo(move.Move{Kind: move.Straight, Target: target(g, s, false), At: in, Base: base, Speed: x.l.Motion.Near}, g.Frame)
}

// goTo moves the arm unless it is there already, and tells frame, tool and
// load first where they changed.
func (x *expander) goTo(m move.Move, frame *layout.Frame) bool {
	if x.at.is(m.Base) {
		return true
	}
	x.at = position{m.Base, true}
	now := selection{frame, x.l.Motion.Tool, x.load()}
	if now != x.told {
		x.told = now
		if !x.emit(x.tell(move.Move{Kind: move.Select})) {
			return false
		}
	}
	return x.emit(x.tell(m))
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

// openFirst opens a jaw that is not known to be open.
func (x *expander) openFirst() bool {
	return x.gripper == open || x.release(move.Target{})
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
	m := move.Move{Kind: kind, Target: at, Tool: tool.Name, ToolNumber: tool.Number, Signal: s.Output, Level: s.Level}
	if !x.emit(m) {
		return false
	}
	return s.Settle == 0 || x.emit(move.Move{Kind: move.Dwell, Seconds: s.Settle})
}

// steps does what the plan asks for beside carrying.
func (x *expander) steps(steps []layout.Step) bool {
	was := x.place
	for _, s := range steps {
		x.place = s.Place
		m := move.Move{Kind: s.Kind, Signal: s.Signal, Level: s.Level, GoOn: s.GoOn, Seconds: s.Seconds, Text: s.Text}
		if !x.emit(m) {
			return false
		}
	}
	x.place = was
	return true
}

func (x *expander) emit(m move.Move) bool {
	m.Transfer, m.Leg, m.Place = x.transfer, x.leg, x.place
	return x.out.put(m)
}
