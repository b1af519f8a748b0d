package render

import (
	"fmt"
	"math"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// rounding follows where the poses of a program lie for its controller, which has no more
// than figures: rounded coordinates, in a rounded frame, for a rounded tool centre point.
// With a pose P in a frame F for a tool T, and F', P', T' as they are written, the tool
// comes to F' P' T'⁻¹ T, where the plan has F P. What lies furthest off is kept.
type rounding struct {
	family *blocks.Blocks
	axes   [3]bool   // X, Y, Z: some block asks for it, so that it is rounded
	turns  bool      // the same of the orientation
	frames []rounded // F⁻¹ F'; empty where every point is in the base
	tools  []rounded // T'⁻¹ T
	last   lastTurn

	lengths, angles float64 // the most that rounding can make of the pose alone: mm, degrees

	reach                 float64 // mm, how far from its frame's origin some pose lies
	position, orientation worst
}

// figureSet is which figures are rounded while the others are exact: so the decimals that
// are to blame are found.
type figureSet uint8

const (
	lengthFigures figureSet = 1 << iota
	angleFigures
	allFigures = lengthFigures | angleFigures
)

// figured is a pose, by which figures of it are rounded; the first is exact.
type figured [allFigures + 1]geom.Pose

// rounded is what the figures of a frame or a tool make of every pose.
type rounded struct {
	figured
	off, turned float64 // mm, degrees
}

func roundedOf(f figured) rounded { return rounded{f, f[allFigures].T.Norm(), f[allFigures].R.Angle()} }

// lastTurn is an orientation and how it is written: most poses have that of the one before.
type lastTurn struct {
	known          bool
	rpy            geom.RPY
	turn           float64
	exact, written geom.Rot
}

// worst is the pose that lies furthest off.
type worst struct {
	off   float64                 // mm or degrees
	apart [allFigures + 1]float64 // mm, by which figures are rounded
	what  string                  // as messages name it
}

func newRounding(f *blocks.Blocks, job *move.Job) *rounding {
	r := &rounding{family: f, axes: [3]bool{f.Mentions("X"), f.Mentions("Y"), f.Mentions("Z")}}
	r.turns = f.Mentions("Roll", "Pitch", "Yaw", "Turn1", "Turn2", "Turn3", "QW", "QX", "QY", "QZ", "RX", "RY", "RZ", "Turn")
	if !f.BaseCoordinates {
		for _, frame := range job.Frames {
			r.frames = append(r.frames, roundedOf(r.whole(frame.Base).from()))
		}
	}
	if !f.Rules.Loops { // which say nothing of tools
		for _, tool := range job.Tools {
			r.tools = append(r.tools, roundedOf(r.whole(tool.TCP).to()))
		}
	}
	r.lengths, r.angles = r.lengthsOf(f.Decimals.Length), r.anglesOf(f.Decimals.Of(r.turnFigure()))
	return r
}

// whole is the pose of a frame or a tool, which is written or entered at the controller.
func (r *rounding) whole(at move.Point) figured {
	exact := at.Rot()
	written := geom.Vec{X: r.figure(rules.Length, at.X), Y: r.figure(rules.Length, at.Y), Z: r.figure(rules.Length, at.Z)}
	return figuredOf(at.Vec, written, exact, r.turned(r.family.Rotation.OfEntry(), at.RPY, exact, 0))
}

func figuredOf(exact, written geom.Vec, turn, turnWritten geom.Rot) figured {
	return figured{
		0: {R: turn, T: exact}, lengthFigures: {R: turn, T: written},
		angleFigures: {R: turnWritten, T: exact}, allFigures: {R: turnWritten, T: written},
	}
}

// from is where the written pose lies in the exact one.
func (f figured) from() (in figured) {
	back := f[0].Inverse()
	for set := range f {
		in[set] = back.Mul(f[set])
	}
	return in
}

// to is where the exact pose lies in the written one.
func (f figured) to() (in figured) {
	for set := range f {
		in[set] = f[set].Inverse().Mul(f[0])
	}
	return in
}

// figure is a value as it comes out of its figure. That of a length, an angle or a
// quaternion does not depend on the machine.
func (r *rounding) figure(q rules.Quantity, v float64) float64 { return r.family.Written(q, v, 0) }

// turned is an orientation as it comes out of its figures; turn is where the axis of a
// vertical tool stands.
func (r *rounding) turned(form rules.RotationForm, a geom.RPY, exact geom.Rot, turn float64) geom.Rot {
	angle := func(v float64) float64 { return r.figure(rules.Angle, v) }
	switch form {
	case rules.FixedXYZ:
		return geom.RPY{Roll: angle(a.Roll), Pitch: angle(a.Pitch), Yaw: angle(a.Yaw)}.Rot()
	case rules.MovingZYX:
		z, y, x := exact.EulerZYX()
		return geom.RotZ(angle(z)).Mul(geom.RotY(angle(y))).Mul(geom.RotX(angle(x)))
	case rules.MovingZYZ:
		z1, y, z2 := exact.EulerZYZ()
		return geom.RotZ(angle(z1)).Mul(geom.RotY(angle(y))).Mul(geom.RotZ(angle(z2)))
	case rules.Quaternion:
		w, x, y, z := exact.Quaternion()
		part := func(v float64) float64 { return r.figure(rules.Component, v) }
		return nearUnit(part(w), part(x), part(y), part(z))
	case rules.RotationVector:
		v := exact.Vector()
		return geom.RotFromVector(geom.Vec{X: angle(v.X), Y: angle(v.Y), Z: angle(v.Z)})
	case rules.Vertical:
		return geom.RotZ(angle(turn) - turn).Mul(exact)
	}
	return exact
}

// nearUnit is the rotation of a quaternion of whatever length.
func nearUnit(w, x, y, z float64) geom.Rot {
	n := math.Sqrt(float64(w*w) + float64(x*x) + float64(y*y) + float64(z*z))
	turned, _ := geom.Quaternion(w/n, x/n, y/n, z/n)
	return turned
}

// see looks at a move, unless figures are fine enough wherever it goes.
func (r *rounding) see(m *move.Move) {
	if !m.Kind.IsMotion() {
		return
	}
	at := r.family.Coordinates(m)
	f, t := entry(r.frames, m.FrameNumber), entry(r.tools, m.ToolNumber)
	position, orientation := r.bounds(f, t, math.Abs(at.X)+math.Abs(at.Y)+math.Abs(at.Z))
	if most := &r.family.Tolerance; position > most.Position || orientation > most.Orientation {
		r.compare(r.pose(at.Vec, at.RPY, m.Turn), f, t, func() string { return fmt.Sprintf("move %d (%s to %s)", m.N, m.Kind, m.Target) })
	}
}

// bounds are the most that rounding makes of a pose that lies no further away from the
// origin of its frame: mm, degrees.
func (r *rounding) bounds(f, t *rounded, away float64) (position, orientation float64) {
	return r.lengths + f.off + swing(f.turned, away) + t.off, r.angles + f.turned + t.turned
}

// pose is one of a motion, by which figures of it are rounded.
func (r *rounding) pose(at geom.Vec, rpy geom.RPY, turn float64) figured {
	if last := &r.last; !last.known || last.turn != turn || !last.rpy.Is(&rpy) {
		exact := rpy.Rot()
		*last = lastTurn{true, rpy, turn, exact, exact}
		if r.turns {
			last.written = r.turned(r.family.Rotation, rpy, exact, turn)
		}
	}
	return figuredOf(at, r.vector(at), r.last.exact, r.last.written)
}

// vector is a position as it comes out of its figures.
func (r *rounding) vector(v geom.Vec) geom.Vec {
	for i, part := range []*float64{&v.X, &v.Y, &v.Z} {
		if r.axes[i] {
			*part = r.figure(rules.Length, *part)
		}
	}
	return v
}

// compare keeps a pose if it lies further off than any before.
func (r *rounding) compare(p figured, f, t *rounded, what func() string) {
	var off geom.Pose
	var apart [allFigures + 1]float64
	back := p[0].Inverse()
	for set := lengthFigures; set <= allFigures; set++ {
		off = back.Mul(f.figured[set]).Mul(p[set]).Mul(t.figured[set])
		apart[set] = off.T.Norm()
	}
	r.reach = max(r.reach, p[0].T.Norm())
	r.position.keep(apart[allFigures], apart, what)
	r.orientation.keep(off.R.Angle(), apart, what)
}

// noise is what binary arithmetic may make of an exact pose, in mm and degrees.
const noise = 1e-9

func (w *worst) keep(off float64, apart [allFigures + 1]float64, what func() string) {
	if off > w.off+noise {
		*w = worst{off, apart, what()}
	}
}

// entry is item k, counted from 1; where there is none, nothing is rounded.
func entry(of []rounded, k int) *rounded {
	if 1 <= k && k <= len(of) {
		return &of[k-1]
	}
	return &unrounded
}

var unrounded = roundedOf(figured{geom.Identity, geom.Identity, geom.Identity, geom.Identity})

// swing is how far a turn about a frame's origin takes a point away, at most: mm, of
// degrees and mm.
func swing(degrees, away float64) float64 { return degrees * math.Pi / 180 * away }

// turnFigure is the quantity in which orientations are written.
func (r *rounding) turnFigure() rules.Quantity {
	if r.family.Rotation == rules.Quaternion {
		return rules.Component
	}
	return rules.Angle
}

// lengthsOf is the most that lengths with so many decimals make of one pose, mm: half a unit
// of the last one along each axis.
func (r *rounding) lengthsOf(decimals int) float64 {
	return math.Sqrt(3) * r.halfStep(rules.Length, decimals)
}

// anglesOf is the most that angles make of an orientation, degrees. Three turns that are
// off by half a unit each are off by three such together. A quaternion whose four
// components are off by h lies 2 h beside the right one, and turns twice as far off as the
// angle between the two, which is less than 4 h.
func (r *rounding) anglesOf(decimals int) float64 {
	parts := 3.0
	if r.turnFigure() == rules.Component {
		parts = 8 * 180 / math.Pi
	}
	return parts * r.halfStep(r.turnFigure(), decimals)
}

// poses is how many are rounded on the way to one: its frame's and its tool's, too.
func (r *rounding) poses() float64 { return float64(1 + min(len(r.frames), 1) + min(len(r.tools), 1)) }

func (r *rounding) halfStep(q rules.Quantity, decimals int) float64 {
	return r.family.Units[q].Value(0.5 * math.Pow10(-decimals))
}
