package layout

import (
	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/urdf"
)

// Arm is the cell's arm in the base: its axes, and what else is known of its joints.
type Arm struct {
	*arm.Arm
	Place         diag.Place
	Base          geom.Pose              // of the arm's own coordinates
	Prefer        arm.Configuration      // of several that serve as well
	Speeds        [arm.MaxJoints]float64 // degrees/s or mm/s; 0 where not known
	Accelerations [arm.MaxJoints]float64 // degrees/s² or mm/s²; 0 where not known
	// Shapes are what links fill, in the base with all joints at 0: the first ones stand still, the
	// others are those behind each joint.
	Shapes  [][]LinkShape
	Winding float64 // how far the last joint that turns may be turned from where a job begins, degrees; 0 for as far as its range goes
	Known   []Known
	// How far known poses may be off: mm, and degrees.
	Tolerance, Turned float64

	source *plan.Arm
}

// Known is readings that were taken of the arm itself, where its flange was then, and how far the
// arm's joints lead past that: mm and degrees.
type Known struct {
	Place     diag.Place
	Readings  arm.Readings
	Pose      geom.Pose
	Way, Turn float64
}

// arm is what the cell says of the arm; none where it says nothing or that was refused.
func (r *resolver) arm() {
	a := r.described()
	if a == nil {
		return
	}
	solved, err := arm.New(a.Joints, a.Flange)
	if err != nil {
		r.list.Errorf("arm-unsolved", a.Place, "no readings can be worked out for the poses of this arm: %v", err).
			WithHint("correct its joints, or leave \"arm\" out: all but the joints is looked at without it")
		return
	}
	a.Arm = solved
	r.out.Arm = a
	r.prefer(a)
	r.known(a)
}

// described is the arm as the cell says it, by which the flange is known from readings, but not yet
// readings from poses.
func (r *resolver) described() *Arm {
	written := r.cell.Arm
	if written == nil || written.Unread {
		return nil
	}
	base, ok := r.placed(written.Base)
	flange, good := r.placed(written.Flange)
	if !ok || !good {
		return nil
	}
	a := &Arm{Place: written.Place, Base: base, source: written, Tolerance: written.Tolerance.Or(plan.DefaultKnownTolerance), Turned: written.Turned.Or(plan.DefaultKnownTurned)}
	joints, flange := axesOf(written, base, flange)
	for i, j := range written.Joints {
		joints[i].Name, joints[i].Slides, joints[i].Lo, joints[i].Hi = j.Name.V, j.Slides, j.Range.V[0], j.Range.V[1]
		a.Speeds[i], a.Accelerations[i] = j.Speed.V, j.Acceleration.V
	}
	a.Arm = &arm.Arm{Joints: joints, Flange: flange}
	a.Shapes, a.Winding = shapesOf(written, base), written.Winding.V
	return a
}

// prefer is the configuration that the cell prefers: the first one but for the words that it says.
func (r *resolver) prefer(a *Arm) {
	if all := a.Configurations(); len(all) > 0 {
		a.Prefer = all[0]
	}
	p := &a.source.Prefer
	for factor, word := range []plan.Text{p.Shoulder, p.Elbow, p.Wrist} {
		switch {
		case !word.IsSet():
		case a.Prefer.Word(factor) == "":
			r.list.Errorf("idle-key", word.Place, "%q says nothing of this arm: %s", word.V, a.Class()).WithHint("leave it out: nothing of that kind can be chosen")
		default:
			a.Prefer = a.Prefer.With(factor, word.V == arm.Side(factor, true))
		}
	}
}

// placed is a pose that may be left out; false where it is wrong, which is reported.
func (r *resolver) placed(p plan.Pose) (geom.Pose, bool) {
	refused := r.list.Len()
	pose, _ := r.pose(p, geom.IdentityRot())
	return pose, r.list.Len() == refused
}

// axesOf is an arm's joints in the base and the flange, all joints at 0, from whatever the cell says.
func axesOf(a *plan.Arm, base, flange geom.Pose) ([]arm.Joint, geom.Pose) {
	switch {
	case a.Chain != nil:
		return ofChain(a.Chain, base, flange)
	case a.DH.IsSet():
		return ofRows(a.Joints, a.DH.V == plan.ModifiedDH, base, flange)
	}
	joints := make([]arm.Joint, len(a.Joints))
	for i, j := range a.Joints {
		axis, _ := vec(j.Axis).Unit()
		joints[i] = arm.Joint{Axis: base.R.Apply(axis), Point: base.Apply(vec(j.Point))}
	}
	return joints, base.Mul(flange)
}

// ofRows goes along a Denavit-Hartenberg table. By the standard convention (Denavit & Hartenberg,
// 1955) a joint is about the Z axis that stands before its row, which is Rz(θ)·Tz(d)·Tx(a)·Rx(α); by the
// modified one (Craig, Introduction to Robotics) the row is Rx(α)·Tx(a)·Rz(θ)·Tz(d), and its joint
// about the Z axis behind the twist.
func ofRows(rows []*plan.ArmJoint, modified bool, at, flange geom.Pose) ([]arm.Joint, geom.Pose) {
	joints := make([]arm.Joint, len(rows))
	for i, row := range rows {
		link := geom.Pose{R: geom.RotX(row.Row.Alpha.V), T: geom.Vec{X: row.Row.A.V}}
		turn := geom.Pose{R: geom.RotZ(row.Row.Theta.V), T: geom.Vec{Z: row.Row.D.V}}
		if modified {
			at = at.Mul(link)
		}
		joints[i] = arm.Joint{Axis: at.R.Column(2), Point: at.T}
		if at = at.Mul(turn); !modified {
			at = at.Mul(link)
		}
	}
	return joints, at.Mul(flange)
}

// ofChain goes along the links of a URDF file.
func ofChain(c *urdf.Chain, at, flange geom.Pose) ([]arm.Joint, geom.Pose) {
	var joints []arm.Joint
	for _, j := range c.Joints {
		at = at.Mul(originOf(&j.Origin))
		if j.Moves() {
			axis, _ := triple(j.Axis).Unit()
			joints = append(joints, arm.Joint{Axis: at.R.Apply(axis), Point: at.T})
		}
	}
	return joints, at.Mul(flange)
}

func triple(v [3]float64) geom.Vec { return geom.Vec{X: v[0], Y: v[1], Z: v[2]} }

func originOf(o *urdf.Origin) geom.Pose {
	return geom.At(triple(o.XYZ), geom.RPY{Roll: o.RPY[0], Pitch: o.RPY[1], Yaw: o.RPY[2]})
}
