package expand

import (
	"fmt"
	"slices"

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
	return w == nil || x.toPose(w, move.Travel, role, x.travel())
}

func (x *expander) toPose(w *layout.NamedPose, kind move.Kind, role move.Role, speed float64) bool {
	return x.goTo(&motion{kind, role, move.Target{Pose: w.Name}, 0, x.fitted, speed}, w.In(x.fitted), w.Base(x.fitted), w.Frame)
}

// reach goes to a spot, with as many zones at once.
func (x *expander) reach(p *spot, kind move.Kind, role move.Role, zones int, speed float64) bool {
	return x.goTo(&motion{kind, role, p.target, zones, x.tool(), speed}, &p.in, &p.base, p.grid.Frame)
}

func (x *expander) up(p *spot, slots []slot.Slot, role move.Role) bool {
	return x.reach(p, move.Straight, role, zonesAt(slots), x.by.Near.V)
}

// down goes to slots that parts are taken from.
func (x *expander) down(g *layout.Grid, slots []slot.Slot) bool {
	var p spot
	x.inSlot(&p, g, slots[0])
	return x.reach(&p, move.Straight, move.DownSource, zonesAt(slots), x.by.Near.V)
}

// lower goes to where parts are let go that come into slots.
func (x *expander) lower(g *layout.Grid, slots []slot.Slot) bool {
	var p spot
	x.letGo(&p, g, slots[0])
	return x.reach(&p, move.Straight, move.DownDestination, zonesAt(slots), x.by.Near.V)
}

// motion is a travel or a straight before it is known whether it is needed.
type motion struct {
	kind   move.Kind
	role   move.Role
	target move.Target
	zones  int          // that go there at once
	tool   *layout.Tool // whose TCP goes there
	speed  float64
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
// load first where they changed. The first motion leads from wherever the arm stands, and the
// first since a change of tool by hand from where a person was at work: they are slow and end in
// a stop. It leads to a point of the frame, which is also given in the base.
func (x *expander) goTo(to *motion, in, base *move.Point, frame *layout.Frame) bool {
	if x.at.is(to.tool, base) {
		x.left++
		return true
	}
	first := !x.at.known
	if to.kind == move.Straight && x.turnsBack(to, base) {
		x.out.stop()
	}
	if !x.selectFor(frame, to.tool) {
		return false
	}
	if x.lineFrom.known = false; to.kind == move.Straight {
		x.lineFrom = x.at
	}
	x.at.base = *base
	x.at.tool, x.at.known = to.tool, true
	m := x.add(to.kind, to.role)
	if m == nil {
		return false
	}
	x.out.flyBy = x.by.FlyBy.V
	if to.role.Changing() {
		x.out.flyBy = 0 // at a stand no corner is cut
	}
	x.mark(m)
	m.Target = to.target
	m.At = *in
	m.Base = *base
	m.Zones, m.Speed, m.First, m.AfterHand = to.zones, to.speed, first, x.byHand
	if x.byHand = false; m.Careful() {
		x.out.flyBy, m.Speed = 0, x.by.Near.V
	}
	return true
}

// back is the cosine of 179°: a straight line that leaves another by more leads back along it, and
// no arm can round such a corner.
const back = -0.99984769515639

// turnsBack reports whether a straight line leads back along the one by which the arm came, to where
// that began, or less far, or beyond.
func (x *expander) turnsBack(to *motion, base *move.Point) bool {
	from := &x.lineFrom
	if !from.known || from.tool != to.tool {
		return false
	}
	came, goes := x.at.base.Sub(from.base.Vec), base.Sub(x.at.base.Vec)
	return same(&from.base, base) || came.Dot(goes) < back*came.Norm()*goes.Norm()
}

// selectFor selects frame, tool and load where others were selected last, or none.
func (x *expander) selectFor(frame *layout.Frame, tool *layout.Tool) bool {
	now := selection{frame, tool, tool.LoadWith(x.carried...)}
	return now == x.selected || x.choose(frame, tool, move.Selecting) != nil
}

// choose selects frame, tool and load. With another tool, or another zone of it, the arm stands
// where it is, and another TCP counts from there on.
func (x *expander) choose(frame *layout.Frame, tool *layout.Tool, role move.Role) *move.Move {
	x.selected = selection{frame, tool, tool.LoadWith(x.carried...)}
	x.spread = x.spreads.of(move.Spread{Centre: tool.CentreWith(x.carried...), Inertia: tool.InertiaWith(x.carried...)})
	shifts := x.at.known && x.at.tool != tool
	if shifts {
		x.out.stop()
		x.at = position{tool.At(x.at.tool, x.at.base), tool, true}
	}
	m := x.add(move.Select, role)
	if m == nil {
		return nil
	}
	if x.mark(m); shifts {
		m.Shifts, m.Base = true, x.at.base
	}
	return m
}

// mark writes the selected frame, tool and load on a move.
func (x *expander) mark(m *move.Move) {
	m.Frame, m.FrameNumber = x.selected.frame.Name, x.selected.frame.Number
	m.Tool, m.ToolNumber = x.selected.tool.Name, x.selected.tool.Number
	m.Load = x.selected.load
	m.Spread = x.spread
}

// hang takes a part out of a slot into the gripper, where the plan says what it is.
func (x *expander) hang(g *layout.Grid, s slot.Slot, part *layout.Part, by *layout.Tool, turn geom.RPY) {
	x.hung = layout.Hung{Part: part, By: by}
	if part != nil {
		x.hung.At = x.lying.Take(g, s, part, turn)
		x.carried = append(x.carried, x.hung)
	}
}

// unhang leaves the part in a gripper in a slot, where it lies as it hung.
func (x *expander) unhang(g *layout.Grid, s slot.Slot, by *layout.Tool) {
	hung := layout.Hung{By: by}
	if i := slices.IndexFunc(x.carried, func(h layout.Hung) bool { return h.By == by }); i >= 0 {
		hung = x.carried[i]
		x.carried = slices.Delete(x.carried, i, i+1)
	}
	x.lying.Put(g, s, hung.Part, hung.At, x.turn(by))
}

// turn is how a gripper on the flange is turned in the base.
func (x *expander) turn(t *layout.Tool) geom.RPY { return t.TurnAt(x.at.tool, x.at.base.RPY) }

// openFirst opens the gripper, or every zone in which the entry carries parts, that is not
// known to be open. Where nothing was selected yet, the tool is, because its output is about to
// be written.
func (x *expander) openFirst(next *layout.Frame) bool {
	longest := 0.0
	for i := range x.zones {
		t := x.fitted.Zone(i)
		if x.grippers[t.Number-1] != unknown {
			continue
		}
		if x.selected.tool == nil && !x.selectFor(next, x.fitted) || !x.act(t, move.Release, move.Target{}, 0) {
			return false
		}
		longest = max(longest, t.Release.Settle)
	}
	return x.wait(longest, move.OpenSettle)
}

// grip takes the parts in some slots, the first of them in the present zone.
func (x *expander) grip(g *layout.Grid, slots []slot.Slot, part *layout.Part) bool {
	longest := 0.0
	for i, s := range slots {
		t := x.fitted.Zone(x.zone + i)
		x.hang(g, s, x.l.PartOf(x.idOf(x.zone+i), part), t, x.turn(t))
		if !x.act(t, move.Grip, target(g, s, false), i) {
			return false
		}
		longest = max(longest, t.Grip.Settle)
	}
	return x.wait(longest, move.HoldSettle) && x.askZones(len(slots), move.AskHeld)
}

// release lets go of the parts over some slots.
func (x *expander) release(g *layout.Grid, slots []slot.Slot) bool {
	longest := 0.0
	for i, s := range slots {
		t := x.fitted.Zone(x.zone + i)
		x.unhang(g, s, t)
		if !x.act(t, move.Release, target(g, s, false), i) {
			return false
		}
		longest = max(longest, t.Release.Settle)
	}
	return x.wait(longest, move.FreeSettle)
}

// act works the gripper of a tool, unless it is so already; behind is as in the move.
func (x *expander) act(t *layout.Tool, kind move.Kind, at move.Target, behind int) bool {
	a, becomes := &t.Grip, closed
	if kind == move.Release {
		a, becomes = &t.Release, open
	}
	if x.grippers[t.Number-1] == becomes {
		return true
	}
	x.grippers[t.Number-1] = becomes
	role, more := rolesOf(kind, at)
	m := x.add(kind, role)
	if m == nil {
		return false
	}
	m.Target, m.Tool, m.ToolNumber, m.Signal, m.Level, m.Behind = at, t.Name, t.Number, a.Output, a.Level, behind
	if behind > 0 {
		m.ID = x.l.ID(x.idOf(x.transfer - x.group.first + behind))
	}
	return x.hereSteps(a.More, more)
}

// wait is until the grippers that worked have settled.
func (x *expander) wait(seconds float64, role move.Role) bool {
	return seconds == 0 || x.step(&layout.Step{Kind: move.Dwell, Seconds: seconds}, role)
}

// rolesOf is why the gripper works, and why more outputs are written with it.
func rolesOf(kind move.Kind, at move.Target) (act, more move.Role) {
	switch {
	case kind == move.Grip:
		return move.TakeHold, move.HoldMore
	case at.IsZero():
		return move.OpenFirst, move.OpenMore
	}
	return move.LetGo, move.FreeMore
}

// ask waits until the gripper's input says that a part is held, or that none is; without
// such an input nothing is asked.
func (x *expander) ask(t *layout.Tool, role move.Role, held bool) bool {
	h := t.Grip.Holds
	if h == nil {
		return true
	}
	m := x.add(move.Await, role)
	if m != nil {
		m.Tool, m.ToolNumber, m.Signal, m.Level, m.Seconds = t.Name, t.Number, h.Input, h.Level == held, h.Within
	}
	return m != nil
}

// steps does what the plan asks for beside carrying.
func (x *expander) steps(steps []layout.Step, role move.Role) bool {
	if len(steps) == 0 {
		return true
	}
	was := x.place
	for i := range steps {
		x.restOn(steps[i].Place)
		if !x.step(&steps[i], role) {
			return false
		}
	}
	x.restOn(was)
	return true
}

// hereSteps does steps that rest on the present line: those of a tool are in the cell.
func (x *expander) hereSteps(steps []layout.Step, role move.Role) bool {
	for i := range steps {
		if !x.step(&steps[i], role) {
			return false
		}
	}
	return true
}

func (x *expander) step(s *layout.Step, role move.Role) bool {
	if s.Kind.IsMotion() {
		return x.goStep(s, role)
	}
	m := x.add(s.Kind, role)
	if m != nil {
		m.Signal, m.Level, m.GoOn, m.Seconds, m.Pulse, m.Text = s.Signal, s.Level, s.GoOn, s.Seconds, s.Pulse, s.Text
	}
	return m != nil
}

// optionalStop ends a transfer where the plan asks for that.
func (x *expander) optionalStop() bool {
	at := x.by.StopPlace
	if at.IsZero() {
		return true
	}
	x.make(x.group.first + len(x.group.to) - 1)
	x.out.stop()
	m := x.add(move.Note, move.Asked)
	if m == nil {
		return false
	}
	m.Pause, m.Place, m.ListedAt, m.Text = true, at, 0, fmt.Sprintf("optional stop after transfer %d", x.transfer)
	return true
}

// add begins a move of the transfer that is being made; nil when nobody wants any
// more.
func (x *expander) add(kind move.Kind, role move.Role) *move.Move {
	m := x.out.add(kind, role)
	if m != nil {
		// Larger values by themselves: several at once would go by way of the stack, which takes
		// longer than all the rest.
		m.Place = x.place
		m.Transfer, m.Leg, m.Figures, m.Group, m.ID, m.ListedAt = x.transfer, x.leg, x.by.Number, x.together, x.id, x.listed
	}
	return m
}
