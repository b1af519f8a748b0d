package timing

import (
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Stand is how the arm stands between two moves.
type Stand struct {
	TCP   move.Point
	Reads *arm.Readings // of the joints; nil where nobody knows
	turn  float64       // the axis that turns the tool
}

// Travel is how long a travel takes from stop to stop, at a speed of the TCP in mm/s.
func (m Machine) Travel(from, to *Stand, speed float64) (seconds float64) {
	l := m.legOf(from, &move.Move{Kind: move.Travel, Base: to.TCP, Joints: to.Reads, Turn: to.turn, Speed: speed})
	return Between(l.way(), 0, 0, l.limits).Seconds()
}

// leg is one motion: the way of the TCP, mostly a straight line, and the turn and the joints that go with it.
type leg struct {
	length  float64      // mm
	unit    geom.Vec     // the direction of its end as seen from its beginning; zero where these are one
	turn    float64      // degrees
	joints  arm.Readings // how far each joint goes; all 0 where nobody knows, or there is no arm
	limits  Limits       // along its way
	slowest int          // the joint that slows it down, from 1; 0 for none
	timed   int          // which of the held moves it is
	flyBy   float64      // mm, at its end

	seconds float64 // how long it takes
	alone   float64 // and would take from stop to stop
}

// legOf is a motion from where the arm stands.
func (m Machine) legOf(from *Stand, to *move.Move) leg {
	l := leg{turn: turned(from.TCP, to.Base), flyBy: to.FlyBy}
	if m.ByAxis {
		l.turn = math.Abs(to.Turn - from.turn)
	}
	way := to.Base.Sub(from.TCP.Vec)
	if length := way.Norm(); length >= hair {
		l.length = length
		l.unit = geom.Vec{X: way.X / length, Y: way.Y / length, Z: way.Z / length}
	}
	known := m.Joints != nil && from.Reads != nil && to.Joints != nil
	if known {
		m.Joints.take(&l, from, to)
	}
	if l.limits = m.limitsOf(l.length, l.turn, to.Speed); known {
		m.Joints.hold(&l)
	}
	return l
}

// hair is a way or a turn that only rounding makes, mm or degrees.
const hair = 1e-6

// turned is how far the tool turns between them, degrees.
func turned(a, b move.Point) float64 {
	if a.RPY == b.RPY {
		return 0
	}
	if angle := a.Rot().T().Mul(b.Rot()).Angle(); angle >= hair {
		return angle
	}
	return 0
}

// way is what the leg's limits are about: its length, or else its turn, or else that of the joints, which is 1 as a whole.
func (l *leg) way() float64 {
	switch {
	case l.length > 0:
		return l.length
	case l.turn > 0 || l.still():
		return l.turn
	}
	return 1
}

// still says that no joint is known to go anywhere.
func (l *leg) still() bool { return l.joints == arm.Readings{} }

// perLength is how many degrees go with a millimetre.
func (l *leg) perLength() float64 {
	if l.length == 0 {
		return 0
	}
	return l.turn / l.length
}
