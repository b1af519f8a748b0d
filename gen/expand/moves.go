package expand

import (
	"fmt"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

func target(g *layout.Grid, s slot.Slot, approach bool) move.Target {
	return move.Target{Grid: g.Name, Slot: s, Layered: g.Layered(), Approach: approach}
}

// start travels to the start pose, where there is one and nothing has moved yet.
func (x *expander) start() bool { return x.at.known || x.pass(x.by.Start, move.ToStart) }

// clear travels to the clear pose, where there is one.
func (x *expander) clear(role move.Role) bool { return x.pass(x.by.Clear, role) }

func (x *expander) pass(w *layout.NamedPose, role move.Role) bool {
	if w == nil {
		return true
	}
	return x.goTo(&motion{move.Travel, role, move.Target{Pose: w.Name}, w.In, w.Base, x.travel()}, w.Frame)
}

// reach goes to an approach point.
func (x *expander) reach(p *approachPoint, kind move.Kind, role move.Role, speed float64) bool {
	return x.goTo(&motion{kind, role, target(p.grid, p.slot, true), p.in, p.base, speed}, p.grid.Frame)
}

func (x *expander) up(p *approachPoint, role move.Role) bool {
	return x.reach(p, move.Straight, role, x.by.Near.V)
}

// down goes to a slot that a part is taken from.
func (x *expander) down(g *layout.Grid, s slot.Slot) bool {
	in, base := g.Points(s)
	return x.goTo(&motion{move.Straight, move.DownSource, target(g, s, false), in, base, x.by.Near.V}, g.Frame)
}

// lower goes to where a part is let go that comes into a slot.
func (x *expander) lower(g *layout.Grid, s slot.Slot) bool {
	in, base := x.by.LetGo(g, s)
	return x.goTo(&motion{move.Straight, move.DownDestination, target(g, s, false), in, base, x.by.Near.V}, g.Frame)
}

// motion is a travel or a straight before it is known whether it is needed.
type motion struct {
	kind     move.Kind
	role     move.Role
	target   move.Target
	in, base move.Point
	speed    float64
}

// firstFrame is the frame of the next motion on the way to a grid without a clear pose.
func (x *expander) firstFrame(g *layout.Grid) *layout.Frame {
	if w := x.by.Start; w != nil && !x.at.known {
		return w.Frame
	}
	if len(x.by.Entry) > 0 {
		return x.by.Entry[0].Frame
	}
	return g.Frame
}

// goTo moves the arm unless it is there already, and selects frame, tool and
// load first where they changed. The first motion leads from wherever the arm stands:
// it is slow and ends in a stop.
func (x *expander) goTo(to *motion, frame *layout.Frame) bool {
	if x.at.is(&to.base) {
		return true
	}
	first := !x.at.known
	x.at = position{to.base, true}
	if !x.selectFor(frame) {
		return false
	}
	m := x.add(to.kind, to.role)
	if m == nil {
		return false
	}
	x.out.flyBy = x.by.FlyBy.V
	x.mark(m)
	m.Target, m.At, m.Base, m.Speed, m.First = to.target, to.in, to.base, to.speed, first
	if first {
		x.out.flyBy, m.Speed = 0, x.by.Near.V
	}
	return true
}

// selectFor selects frame, tool and load where others were selected last, or none.
func (x *expander) selectFor(frame *layout.Frame) bool {
	now := selection{frame, x.by.Tool, x.load()}
	if now == x.selected {
		return true
	}
	x.selected, x.centre, x.inertia = now, x.by.Tool.CentreWith(x.carried, x.hangs.at.T), x.by.Tool.InertiaWith(x.carried, x.hangs.at)
	m := x.add(move.Select, move.Selecting)
	if m == nil {
		return false
	}
	x.mark(m)
	return true
}

// mark writes the selected frame, tool and load on a move.
func (x *expander) mark(m *move.Move) {
	m.Frame, m.FrameNumber = x.selected.frame.Name, x.selected.frame.Number
	m.Tool, m.ToolNumber = x.selected.tool.Name, x.selected.tool.Number
	m.Load, m.Centre, m.Inertia = x.selected.load, x.centre, x.inertia
}

// load is what hangs on the flange, kg.
func (x *expander) load() float64 {
	load := x.by.Tool.Mass
	if x.carried != nil {
		load += x.carried.Mass
	}
	return load
}

// hanging is how a part's middle lies in the frame of the tool that took it out of a slot;
// mostly all of a grid hang alike.
type hanging struct {
	grid   *layout.Grid
	part   *layout.Part
	turned float64 // the slot
	at     geom.Pose
}

// hang takes a part out of a slot into the gripper.
func (x *expander) hang(g *layout.Grid, s slot.Slot, part *layout.Part) {
	x.carried = part
	if part == nil {
		return
	}
	if _, turned := g.Pattern.At(s); x.hangs.grid != g || x.hangs.part != part || x.hangs.turned != turned {
		_, base := g.Points(s)
		tool := base.Rot()
		x.hangs = hanging{g, part, turned, g.Held(s, part, nil, &tool)}
	}
}

// openFirst opens a gripper that is not known to be open. Where nothing was selected
// yet, the tool is, because its output is about to be written.
func (x *expander) openFirst(next *layout.Frame) bool {
	if x.gripper == open {
		return true
	}
	return (x.selected.tool != nil || x.selectFor(next)) && x.release(move.Target{})
}

func (x *expander) grip(g *layout.Grid, s slot.Slot, part *layout.Part) bool {
	x.hang(g, s, part)
	return x.act(move.Grip, closed, &x.by.Tool.Grip, target(g, s, false)) && x.ask(move.AskHeld, true)
}

func (x *expander) release(at move.Target) bool {
	x.carried = nil
	return x.act(move.Release, open, &x.by.Tool.Release, at)
}

// act works the gripper and waits until it has settled.
func (x *expander) act(kind move.Kind, becomes gripper, a *layout.Action, at move.Target) bool {
	if x.gripper == becomes {
		return true
	}
	x.gripper = becomes
	tool, role := x.by.Tool, rolesOf(kind, at)
	m := x.add(kind, role.act)
	if m == nil {
		return false
	}
	m.Target, m.Tool, m.ToolNumber, m.Signal, m.Level = at, tool.Name, tool.Number, a.Output, a.Level
	for i := range a.More {
		if !x.step(&a.More[i], role.more) {
			return false
		}
	}
	return a.Settle == 0 || x.step(&layout.Step{Kind: move.Dwell, Seconds: a.Settle}, role.settle)
}

// acting is why the gripper works, why more outputs are written with it, and why it is
// waited for.
type acting struct{ act, more, settle move.Role }

func rolesOf(kind move.Kind, at move.Target) acting {
	switch {
	case kind == move.Grip:
		return acting{move.TakeHold, move.HoldMore, move.HoldSettle}
	case at.IsZero():
		return acting{move.OpenFirst, move.OpenMore, move.OpenSettle}
	}
	return acting{move.LetGo, move.FreeMore, move.FreeSettle}
}

// ask waits until the gripper's input says that a part is held, or that none is; without
// such an input nothing is asked.
func (x *expander) ask(role move.Role, held bool) bool {
	h := x.by.Tool.Grip.Holds
	return h == nil || x.step(&layout.Step{Kind: move.Await, Signal: h.Input, Level: h.Level == held, Seconds: h.Within}, role)
}

// steps does what the plan asks for beside carrying.
func (x *expander) steps(steps []layout.Step, role move.Role) bool {
	was := x.place
	for i := range steps {
		x.place = steps[i].Place
		if !x.step(&steps[i], role) {
			return false
		}
	}
	x.place = was
	return true
}

func (x *expander) step(s *layout.Step, role move.Role) bool {
	if s.Kind.IsMotion() {
		return x.goStep(s, role)
	}
	m := x.add(s.Kind, role)
	if m != nil {
		m.Signal, m.Level, m.GoOn, m.Seconds, m.Text = s.Signal, s.Level, s.GoOn, s.Seconds, s.Text
	}
	return m != nil
}

// optionalStop ends a transfer where the plan asks for that.
func (x *expander) optionalStop() bool {
	at := x.by.StopPlace
	if at.IsZero() {
		return true
	}
	m := x.out.add(move.Note, move.Asked, true)
	if m == nil {
		return false
	}
	m.Transfer, m.Leg, m.Place, m.Figures = x.transfer, x.leg, at, x.by.Number
	m.Text = fmt.Sprintf("optional stop after transfer %d", x.transfer)
	return true
}

// add begins a move of the transfer that is being made; nil when nobody wants any
// more.
func (x *expander) add(kind move.Kind, role move.Role) *move.Move {
	m := x.out.add(kind, role, false)
	if m != nil {
		m.Transfer, m.Leg, m.Place, m.Figures = x.transfer, x.leg, x.place, x.by.Number
	}
	return m
}
