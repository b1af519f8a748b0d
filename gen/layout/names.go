package layout

import (
	"maps"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// pointingDown is how a tool is turned at a slot or a pose when nothing
// else is said.
var pointingDown = geom.RPY{Roll: 180}

func vec(v plan.Vector) geom.Vec { return geom.Vec{X: v.V[0], Y: v.V[1], Z: v.V[2]} }

func rpy(v plan.Vector) geom.RPY { return geom.RPY{Roll: v.V[0], Pitch: v.V[1], Yaw: v.V[2]} }

func point(p geom.Pose) move.Point { return move.Point{Vec: p.T, RPY: p.R.RPY()} }

// pose turns a written pose into a rotation and a place; otherwise is the
// orientation when none is written.
func (r *resolver) pose(p plan.Pose, otherwise geom.Rot) (geom.Pose, bool) {
	return measure.Pose(p, otherwise, r.list)
}

// frame looks a frame up; the base where none is written; nil where it cannot
// be used.
func (r *resolver) frame(name plan.Text) *Frame {
	if !name.IsSet() {
		return r.frameOf[plan.BaseFrame]
	}
	return lookUp(r, "frame", name, r.frameOf)
}

func (r *resolver) tool(name plan.Text) *Tool { return lookUp(r, "tool", name, r.toolOf) }
func (r *resolver) namedPose(name plan.Text) *NamedPose {
	return lookUp(r, "pose", name, r.poseOf)
}

// lookUp finds what a name of the cell stands for. A name that nothing has is
// an error here; one whose own definition failed was reported there.
func lookUp[T any](r *resolver, what string, name plan.Text, known map[string]*T) *T {
	if !name.IsSet() {
		return nil
	}
	found, ok := known[name.V]
	if !ok && !r.cellMissing && !r.cell.Unread[what] && !r.plan.Unread[what] {
		decode.Unknown(r.list, what, name, hintable(r.list, known))
	}
	return found
}

func keys[T any](known map[string]*T) []string {
	return slices.Sorted(maps.Keys(known))
}

// hintable is the names to which an unknown one is compared; none where there are too
// many of both.
func hintable[T any](list *diag.List, known map[string]*T) []string {
	if !list.MayCompare(len(known)) {
		return nil
	}
	return keys(known)
}
