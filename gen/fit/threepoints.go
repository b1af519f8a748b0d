package fit

import (
	"math"

	"gridferry/gen/geom"
)

// ThreePointFrame is a frame from three points. Three points always fit, so there
// are no residuals: the baselines and the angle say what it is worth.
type ThreePointFrame struct {
	Pose    geom.Pose
	AlongX  float64 // origin to along_x, mm
	TowardY float64 // origin to toward_y, mm
	Angle   float64 // between the two, degrees
}

// ThreePoints returns the frame whose origin is origin, whose X axis points to
// alongX, and whose XY plane holds towardY on the side of +Y:
// Z = X × (towardY - origin), normalised, and Y = Z × X.
//
// It refuses points closer than MinDistance and points within MinAngle of one
// line; the indices in the error are 0 origin, 1 along_x, 2 toward_y.
func ThreePoints(origin, alongX, towardY geom.Vec) (ThreePointFrame, error) {
	if e := usable(roles, []geom.Vec{origin, alongX, towardY}); e != nil {
		return ThreePointFrame{}, e
	}
	if off := offLine(origin, alongX, towardY); off < MinAngle {
		return ThreePointFrame{}, &Error{Kind: OneLine, Of: roles, Points: []int{0, 1, 2}, Got: off, Want: MinAngle}
	}
	along, toward := alongX.Sub(origin), towardY.Sub(origin)
	x, _ := along.Unit()
	z, _ := x.Cross(toward).Unit()
	return ThreePointFrame{
		Pose:    geom.Pose{R: geom.FromColumns(x, z.Cross(x), z), T: origin},
		AlongX:  along.Norm(),
		TowardY: toward.Norm(),
		Angle:   along.AngleTo(toward),
	}, nil
}

// Uncertainty returns how far off, in degrees, the frame may be when one touch is
// off by touch mm: the direction of its X axis, and the turn of its XY plane about
// X. Each is the error over the baseline that it acts across (0.1 mm over 100 mm
// is 0.057°; common practice, no source); for the plane that is the distance of
// toward_y from the X axis.
func (f ThreePointFrame) Uncertainty(touch float64) (direction, plane float64) {
	const radian = 180 / math.Pi
	sin, _ := geom.SinCos(f.Angle)
	return touch / f.AlongX * radian, touch / float64(f.TowardY*sin) * radian
}

// Drift returns how far off, in mm, a place in the frame may be when one touch is
// off by touch mm: because of the direction of X, which acts on the whole distance
// from the origin, and because of the turn about X, which acts on the distance
// from the X axis.
func (f ThreePointFrame) Drift(touch float64, at geom.Vec) (direction, plane float64) {
	sin, _ := geom.SinCos(f.Angle)
	return touch * at.Norm() / f.AlongX, touch * math.Hypot(at.Y, at.Z) / float64(f.TowardY*sin)
}
