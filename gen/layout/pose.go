package layout

import (
	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// NamedPose is a named pose in free space: where the TCP goes, whichever tool it is of; or, given by
// the readings of the joints, where the flange goes, and the TCP of each tool elsewhere.
type NamedPose struct {
	Name   string
	Place  diag.Place
	Frame  *Frame
	Joints *arm.Readings // nil where it is given by a position
	in     move.Point    // in Frame
	base   move.Point
	tcps   []move.Point // with Joints: in the base, by the tool's number less 1
}

// In is where the TCP of a tool is at the pose, in its frame.
func (p *NamedPose) In(t *Tool) *move.Point {
	if p.Joints != nil { // such a pose is in the base
		return p.Base(t)
	}
	return &p.in
}

// Base is the same in the base.
func (p *NamedPose) Base(t *Tool) *move.Point {
	if p.Joints != nil {
		return &p.tcps[t.Number-1]
	}
	return &p.base
}

// Of is the tool whose TCP is meant where the pose is not the same for all; nil where it is.
func (p *NamedPose) Of(t *Tool) *Tool {
	if p.Joints != nil {
		return t
	}
	return nil
}

func (r *resolver) poses() {
	for _, w := range r.cell.Poses {
		r.poseOf[w.Name.V] = nil
		if pose := r.namedBy(w); pose != nil {
			pose.Name, pose.Place = w.Name.V, w.Name.Place
			r.out.Poses = append(r.out.Poses, pose)
			r.poseOf[pose.Name] = pose
		}
	}
}

// namedBy is a pose by its position or by its joints; nil where it is not known.
func (r *resolver) namedBy(w *plan.NamedPose) *NamedPose {
	frame := r.frame(w.Frame)
	if w.Readings != nil {
		return r.byJoints(frame, readings(w.Readings))
	}
	pose, ok := r.pose(w.Pose, pointingDown.Rot())
	if frame == nil || !ok {
		return nil
	}
	return &NamedPose{Frame: frame, in: point(pose), base: point(frame.Base.Mul(pose))}
}

// byJoints is a pose to which the joints bring the flange.
func (r *resolver) byJoints(base *Frame, joints arm.Readings) *NamedPose {
	if r.out.Arm == nil {
		return nil // that mistake was reported
	}
	pose := &NamedPose{Frame: base, Joints: &joints}
	flange := r.out.Arm.Pose(joints)
	for _, t := range r.out.Tools {
		pose.tcps = append(pose.tcps, tcpAt(flange, t))
	}
	return pose
}

// tcpAt is where the TCP of a tool is while the flange is at a pose.
func tcpAt(flange geom.Pose, t *Tool) move.Point { return point(flange.Mul(t.TCP)) }
