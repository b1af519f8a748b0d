package expand

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// inside is the grid that the arm went into, and what lies on the way out of it.
type inside struct {
	grid *layout.Grid    // nil outside of all
	by   *layout.Figures // by which it went in
	left int             // the entry poses that are on the way out: so many of the first ones
}

// wayRoles is what the moves to a slot are for.
type wayRoles struct{ clear, enter, over move.Role }

var (
	sourceRoles      = wayRoles{move.ClearFirst, move.EnterSource, move.OverSource}
	destinationRoles = wayRoles{move.ClearLoaded, move.EnterDestination, move.OverDestination}
)

// spot is where the arm goes at a slot: there, or above it.
type spot struct {
	grid     *layout.Grid
	target   move.Target
	in, base move.Point
}

func (x *expander) above(p *spot, g *layout.Grid, s slot.Slot) {
	p.grid, p.target = g, target(g, s, true)
	x.by.SetAbove(&p.in, &p.base, g, s)
}

func (x *expander) inSlot(p *spot, g *layout.Grid, s slot.Slot) {
	p.grid, p.target = g, target(g, s, false)
	g.SetPoints(&p.in, &p.base, s, geom.Vec{})
}

// letGo is where a part is let go that comes into a slot.
func (x *expander) letGo(p *spot, g *layout.Grid, s slot.Slot) {
	p.grid, p.target = g, target(g, s, false)
	x.by.SetLetGo(&p.in, &p.base, g, s)
}

// toSource leads to the approach point of a source: by the clear pose, where a gripper
// that is not known to be open is opened. Without such a pose it is opened before anything
// moves.
func (x *expander) toSource(p *spot) bool {
	if x.by.Clear == nil && !x.openFirst(x.firstFrame(p.grid)) {
		return false
	}
	return x.start() && x.outOf(p, &sourceRoles) && x.openFirst(p.grid.Frame) && x.into(p, &sourceRoles)
}

// toDestination leads to the approach point of a destination.
func (x *expander) toDestination(p *spot) bool {
	return x.start() && x.outOf(p, &destinationRoles) && x.into(p, &destinationRoles)
}

// outOf leaves the grid that the arm is in, up to the clear pose. It does nothing where the
// arm stands at the approach point that it goes to: a detour that comes back to where it
// began is left out. Nor does it between slots of one grid without a clear pose.
func (x *expander) outOf(p *spot, roles *wayRoles) bool {
	if x.at.is(x.tool(), &p.base) || x.by.Clear == nil && x.inside.grid == p.grid {
		return true
	}
	return x.leave(nil) && x.clear(roles.clear)
}

// into goes to the approach point of a slot, over those entry poses that the arm is not
// past already.
func (x *expander) into(p *spot, roles *wayRoles) bool {
	if len(x.by.Entry) > 0 && !x.at.is(x.tool(), &p.base) && !x.enter(p.grid, roles.enter) {
		return false
	}
	x.inside = inside{p.grid, x.by, len(x.by.Entry)}
	return x.reach(p, move.Travel, roles.over, 0, x.travel())
}

// enter passes entry poses of a grid: all of them or, where the arm did not leave it as far
// as that, those behind it.
func (x *expander) enter(g *layout.Grid, role move.Role) bool {
	poses := x.by.Entry
	if x.inside.grid == g {
		poses = x.inside.by.Entry[x.inside.left:]
	}
	for _, p := range poses {
		if !x.pass(p, role) {
			return false
		}
	}
	return true
}

// leave passes the entry poses on the way out of the grid that the arm is in, by the
// figures by which it went in: all of them, or those before the pose that it goes to.
func (x *expander) leave(until *layout.NamedPose) bool {
	in := &x.inside
	if in.left == 0 {
		in.grid = nil
		return true
	}
	last := in.ahead(until)
	defer func(by *layout.Figures) { x.by = by }(x.by)
	x.by = in.by
	role := move.LeaveDestination
	if x.holding() {
		role = move.LeaveSource
	}
	for in.left > last+1 {
		in.left--
		if !x.pass(in.by.Entry[in.left], role) {
			return false
		}
	}
	if in.left = max(last, 0); last < 0 {
		in.grid = nil
	}
	return true
}

// ahead is the place of a pose among those on the way out, -1 where it is none of them.
func (in *inside) ahead(p *layout.NamedPose) int {
	for i := in.left - 1; i >= 0; i-- {
		if in.by.Entry[i] == p {
			return i
		}
	}
	return -1
}

// over does what the plan asks for at an approach point, where the arm stops, and comes
// back to it.
func (x *expander) over(p *spot, steps []layout.Step, roles *wayRoles) bool {
	if len(steps) == 0 {
		return true
	}
	x.out.stop()
	return x.steps(steps, move.AskedBefore) && x.into(p, roles)
}

// goStep is a step that goes to a pose. A travel out of a grid passes its entry poses; a
// straight line leads where it is told to.
func (x *expander) goStep(s *layout.Step, role move.Role) bool {
	if !x.start() {
		return false
	}
	speed := x.by.Near.V
	switch i := x.inside.ahead(s.Pose); {
	case s.Kind == move.Travel:
		if speed = x.travel(); !x.leave(s.Pose) {
			return false
		}
	case i >= 0:
		x.inside.left = i
	}
	return x.toPose(s.Pose, s.Kind, role, speed)
}

// travel is the speed of a travel, with a part in the gripper or without.
func (x *expander) travel() float64 { return x.by.Speed(x.holding()) }
