package arm

import (
	"math"

	"gridferry/gen/geom"
)

// Line is a motion of a tool's centre point along a straight, at an even pace, while it turns evenly about
// one axis.
type Line struct {
	From geom.Pose // of the TCP, in the base
	Way  geom.Vec  // from its beginning to its end, mm
	Turn geom.Vec  // likewise, degrees about the base's axes
}

// LineTo is the line from one pose of the TCP to another one; it turns the short way.
func LineTo(from, to geom.Pose) Line {
	return Line{From: from, Way: to.T.Sub(from.T), Turn: to.R.Mul(from.R.T()).Vector()}
}

// At is the pose a share of the way along, from 0 to 1.
func (l *Line) At(share float64) geom.Pose {
	p := geom.Pose{R: l.From.R, T: l.From.T.Add(l.Way.Scale(share))}
	if l.Turn != (geom.Vec{}) {
		p.R = geom.RotFromVector(l.Turn.Scale(share)).Mul(p.R)
	}
	return p
}

// Stretch is a part of a line along which the readings are proved to lie within bounds: see [Follower].
type Stretch struct {
	From, To float64  // shares of the line
	At       Readings // at its beginning
	// Rate is by how much each reading changes for the whole line, degrees or mm, at the pace at the
	// beginning of the stretch; anywhere on it the pace is no more than Off away from that.
	Rate, Off Readings
	Least     bool // no shorter one can be had
}

// Most is the greatest pace of a joint anywhere on the stretch, as in Rate but without its sign.
func (s *Stretch) Most(joint int) float64 { return math.Abs(s.Rate[joint]) + s.Off[joint] }

// Bounds are the least and the greatest reading that a joint may have anywhere on the stretch.
func (s *Stretch) Bounds(joint int) (lo, hi float64) {
	length := s.To - s.From
	lo, hi = float64((s.Rate[joint]-s.Off[joint])*length), float64((s.Rate[joint]+s.Off[joint])*length)
	return s.At[joint] + min(0, lo), s.At[joint] + max(0, hi)
}

// Follower follows lines with the TCP of one tool.
//
// What it says of the readings between two samples is proved. Let J be the Jacobian, V the line's twist, which is
// the same all along it, and A the inverse of J at a sample. Where the readings are δ away from those there, the
// pace q′ of the readings is
//
//	(I + E)·q′ = A·V = q₀′  with  E = A·(J(q₀+δ) − J(q₀)),
//
// so that |q′ − q₀′| ≤ |E|·|q′|, joint by joint. Let G bound |q′| on a stretch of length h. Then |δ| ≤ G·h, and
// that bounds |E|: its part of the first order in δ is worked out, and the rest is no more than half the square of the sum of
// |δ|, times the arm behind each joint, because second derivatives of J are products of unit vectors and such an arm.
// Where then |q₀′| + |E|·G < G, no pace can have reached G anywhere on the stretch. Nor has the arm been singular
// there, or jumped: I + |E| has an inverse (Perron and Frobenius; from memory). Where it does not hold the stretch is halved.
//
// Of an arm with fewer than six joints A is the inverse by least squares, and the same holds as far as the arm can turn
// as the line does.
type Follower struct {
	arm    Arm                // whose flange is the TCP, without the rail
	rail   *Joint             // under the arm; nil for none. Along a line it slides evenly
	behind [MaxJoints]float64 // how far the TCP can be from each joint, in lengths of the arm, at least 1
	far    [MaxJoints]float64 // the same as it is; 1 for one that slides
}

// Follower returns one for a tool, by its centre point on the flange.
func (a *Arm) Follower(tcp geom.Pose) *Follower {
	f := &Follower{arm: *a}
	if r, ok := a.solver.(railed); ok {
		f.arm, f.rail = *r.inner, &a.Joints[0]
	}
	f.arm.Flange = a.Flange.Mul(tcp)
	far, at := 0.0, f.arm.Flange.T
	for i := len(f.arm.Joints) - 1; i >= 0; i-- {
		j := &f.arm.Joints[i]
		if j.Slides {
			far += max(math.Abs(j.Lo), math.Abs(j.Hi))
			f.far[i] = 1
		} else {
			far += j.Point.Dist(at)
			at = j.Point
			f.far[i] = far / f.arm.length
		}
		f.behind[i] = max(1, far/f.arm.length)
	}
	return f
}

// shortest is the shortest stretch. Where none is proved, the arm is all but singular.
const shortest = 1.0 / (1 << 20)

// Follow goes along a line from the readings at its beginning to those at its end, and shows every stretch in
// order. Where that is to be shorter, take returns false; it gets down to the shortest. It returns the readings where it came
// to, and the share of the line: 1, or less where the arm is all but singular or cannot turn as the line does. Of the
// readings to, only that of a rail counts.
func (f *Follower) Follow(l *Line, from, to Readings, take func(*Stretch) bool) (Readings, float64) {
	return f.onRail(l, from, to, f.prove, take)
}

// Stride is Follow in far longer stretches, on which less is known of the readings, for a look whether anything may be wrong on a line. An approach
// is two or three of them in place of eight, and takes 0.3 times the work.
func (f *Follower) Stride(l *Line, from, to Readings, take func(*Stretch) bool) (Readings, float64) {
	return f.onRail(l, from, to, f.stride, take)
}

// prover works out how fast each reading can change on a stretch, which it may make shorter; false if that is not certain.
type prover func(here *sense, s *Stretch) bool

func (f *Follower) onRail(l *Line, from, to Readings, proves prover, take func(*Stretch) bool) (Readings, float64) {
	if f.rail == nil {
		return f.follow(l, from, proves, take)
	}
	own, slide := *l, to[0]-from[0]
	own.From.T = own.From.T.Sub(f.rail.Axis.Scale(from[0]))
	own.Way = own.Way.Sub(f.rail.Axis.Scale(slide))
	r, came := f.follow(&own, behindRail(&from), proves, func(s *Stretch) bool {
		whole := Stretch{From: s.From, To: s.To, At: onRailAt(&s.At, from[0]+float64(slide*s.From)), Rate: onRailAt(&s.Rate, slide), Off: onRailAt(&s.Off, 0), Least: s.Least}
		return take(&whole)
	})
	return onRailAt(&r, from[0]+float64(slide*came)), came
}

func behindRail(r *Readings) (out Readings) {
	copy(out[:], r[1:])
	return out
}

func onRailAt(r *Readings, rail float64) (out Readings) {
	out[0] = rail
	copy(out[1:], r[:])
	return out
}

func (f *Follower) follow(l *Line, r Readings, proves prover, take func(*Stretch) bool) (Readings, float64) {
	var here sense
	at, length := 0.0, 1.0
	for ; at < 1; length *= 2 {
		if f.sense(&here, &r, l); !here.regular {
			break
		}
		ok := false
		for length = min(length, 1-at); !ok && length >= shortest/2; length /= 2 {
			s := Stretch{From: at, To: at + length, At: r, Least: length < shortest}
			if !proves(&here, &s) || !take(&s) && !s.Least {
				continue
			}
			var next Readings
			if next, ok = f.step(l, &s); ok {
				at, r = s.To, next
				break
			}
		}
		if !ok {
			break
		}
	}
	return r, at
}

// step is the readings at the end of a stretch; false where they are not inside of what was proved.
func (f *Follower) step(l *Line, s *Stretch) (Readings, bool) {
	next := s.At
	for i := range f.arm.Joints {
		next[i] += float64(s.Rate[i] * (s.To - s.From))
	}
	next, ok := f.onto(next, l.At(s.To))
	for i := range f.arm.Joints {
		const rounding = 1e-6
		lo, hi := s.Bounds(i)
		ok = ok && next[i] >= lo-rounding && next[i] <= hi+rounding
	}
	return next, ok
}

// onto moves readings until the TCP is at a pose, or turned as nearly so as the arm can.
func (f *Follower) onto(r Readings, at geom.Pose) (Readings, bool) {
	if len(f.arm.Joints) < 6 {
		return f.arm.settle(r, at, geom.Vec{})
	}
	var q equations
	return f.arm.polish(r, at, &q)
}
