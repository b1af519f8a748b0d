package arm

import (
	"math"

	"gridferry/gen/geom"
)

// factored is an arm whose singular places have words, or a part of it that knows them.
type factored interface {
	// factors are those of the arm's singular places, in the order shoulder, elbow, wrist: what becomes 0
	// there, and has another sign on either side. NaN stands for one that such an arm does not have.
	factors(r Readings) [3]float64
}

// Factors tells how far readings are from the arm's singular places, and on which side: of the shoulder in
// mm, of elbow and wrist as sines; false for an arm that has no words for them.
//
// Of six turning joints they are defined where axis 2 is not parallel to axis 1, and
//   - the last three axes meet in one point, the middle of the wrist, and axis 2 is parallel to axis 3 or meets axis 1;
//   - or axes 2, 3 and 4 are parallel and axes 5 and 6 meet in one point, the middle of the wrist.
//
// Up is along axis 1, the way that Z of the base points (where axis 1 is level: the way it points itself). Seen square to
// up and to axis 2, front is the side of axis 1 on which the middle of the wrist is with every joint in the middle of
// its range; if it is on axis 1 there, the side to which a positive reading of joint 2 moves what is above it.
//
// The shoulder is how far the middle of the wrist is in front of axis 1. The elbow is the sine of the angle by
// which joint 3 is bent from where the arm is stretched; positive where, seen with front to the right, axis 3 lies
// on the left of the way from axis 2 to the end of the forearm (the middle of the wrist, or axis 4): above it, where that way
// leads to the front. The wrist is the sine of the angle by which joint 5 is turned in its positive sense from where
// axes 4 and 6 are in line, both pointing away from the base; where axes 2, 3 and 4 are parallel, from where axis 6,
// pointing as the flange does, points as axis 4 does.
func (a *Arm) Factors(r Readings) (f [3]float64, ok bool) {
	if a.factored == nil {
		return f, false
	}
	return a.factored.factors(r), true
}

// sides are the factors of an arm of six turning joints: the Jacobian's determinant is their product but
// for a constant of the arm. Readings that give one pose differ in the sign of one of them at least, and a sign changes at
// a singular pose only.
type sides struct {
	joints []Joint
	foot   geom.Vec // a point of axis 1
	front  geom.Vec // with joint 1 at 0, as all of these are with their joints at 0
	wrist  geom.Vec // the middle of the wrist: behind joint 3, or behind joint 4 where that is parallel to it
	four   bool     // it is behind joint 4

	two, three geom.Vec // points of axes 2 and 3
	along      geom.Vec // axis 3, the way that makes the elbow up where it lies above the line from axis 2 to the wrist, the wrist being in front
	far        geom.Vec // behind joint 3: where the forearm ends
	forearm    float64  // what the elbow is divided by to be a sine

	five, six, square geom.Vec // axis 5; axis 6, the way the flange points; square to axes 5 and 4
	hand              float64
}

func (f *sides) factors(r Readings) [3]float64 {
	upper := f.joints[1].motion(r[1])
	fore := upper.Mul(f.joints[2].motion(r[2]))
	far, wrist := fore.Apply(f.far), f.wrist
	if f.four {
		wrist = f.joints[3].motion(r[3]).Apply(wrist)
	}
	shoulder := f.front.Dot(fore.Apply(wrist).Sub(f.foot))
	elbow := upper.R.Apply(f.along).Dot(far.Sub(f.two).Cross(far.Sub(upper.Apply(f.three))))
	bent := turn(f.five, toward(r[4])).Apply(f.six).Dot(f.square)
	return [3]float64{shoulder, elbow / f.forearm, bent / f.hand}
}

// newFactors returns what knows the factors of an arm, or nil.
func newFactors(a *Arm) factored {
	if f, is := a.solver.(factored); is {
		return f
	}
	f := sides{joints: a.Joints}
	switch s := a.solver.(type) {
	case *spherical:
		if s.offset != 0 && !parallel(&a.Joints[1], &a.Joints[2]) {
			return nil
		}
		f.wrist, f.far, f.two = s.wrist.centre, s.wrist.centre, s.foot2
		f.forearm = math.Sqrt(float64(s.distance.c*s.distance.c)+float64(s.distance.s*s.distance.s)) / 2
		f.hand = s.wrist.swing.sines / 4
	case *parallels:
		if !s.level {
			return nil
		}
		f.wrist, f.far, f.two, f.four = s.tip, a.Joints[3].Point, a.Joints[1].Point, true
		d := s.elbow.distance(f.two)
		f.forearm = math.Sqrt(float64(d.c*d.c)+float64(d.s*d.s)) / 2
		f.hand = s.swing.sines / 4
	default:
		return nil
	}
	one, two, three, four, five, six := &a.Joints[0], &a.Joints[1], &a.Joints[2], &a.Joints[3], &a.Joints[4], &a.Joints[5]
	if parallel(one, two) {
		return nil
	}
	f.foot, f.three = one.Point, three.Point
	f.five, f.six = five.Axis, pointing(six.Axis, a.Flange.T.Sub(f.wrist), a.Flange.R.Column(2))
	fourth := four.Axis
	if !f.four {
		fourth = pointing(fourth, f.wrist.Sub(three.Point), fourth)
	}
	f.square = five.Axis.Cross(fourth)
	f.face(a, pointing(one.Axis, geom.Vec{Z: 1}, one.Axis))
	return &f
}

// face finds front, and the way of axis 3 that goes with it.
func (f *sides) face(a *Arm, up geom.Vec) {
	k := a.Joints[1].Axis
	f.front, _ = k.Cross(up).Unit()
	f.along = pointing(a.Joints[2].Axis, k, a.Joints[2].Axis)
	var middle Readings
	for i := range a.Joints {
		middle[i] = (a.Joints[i].Lo + a.Joints[i].Hi) / 2
	}
	if f.factors(middle)[0] < -touch {
		f.front, f.along = geom.Vec{}.Sub(f.front), geom.Vec{}.Sub(f.along)
	}
}

// pointing returns an axis or its opposite: the one that points along a way, or along another one where it is square to
// the first.
func pointing(axis, way, otherwise geom.Vec) geom.Vec {
	along := axis.Dot(way)
	if math.Abs(along) <= 1e-9*way.Norm() {
		along = axis.Dot(otherwise)
	}
	if along < 0 {
		return geom.Vec{}.Sub(axis)
	}
	return axis
}
