package rules

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Winding goes along with a list and settles what the orientation of a motion alone leaves
// open: how many whole turns the axis of a vertical tool has made, and which of its two
// quaternions is written. Both follow the motion before, so that neither the axis nor a
// controller that turns from quaternion to quaternion goes the long way round.
type Winding struct {
	rules   *Rules
	from    float64 // degrees, the range of the axis
	to      float64
	dust    float64 // degrees: what lies no further apart is written alike
	known   bool    // there was a motion
	last    geom.RPY
	turn    float64    // where the axis stands
	way     float64    // how far it turned to get there
	written [4]float64 // the quaternion
	negated bool
}

// NewWinding begins a list for a machine whose axis turns from one angle to another,
// degrees; both are 0 where the cell does not say, and then it is half a turn to either side.
func (rules *Rules) NewWinding(turns [2]float64) Winding {
	if turns == [2]float64{} {
		turns = [2]float64{-180, 180}
	}
	return Winding{rules: rules, from: turns[0], to: turns[1], dust: rules.HalfStep(Angle, 0)}
}

// Range is how far the axis turns, from one angle to another, and Way is how far it
// turned last.
func (w *Winding) Range() (from, to float64) { return w.from, w.to }
func (w *Winding) Way() float64              { return w.way }

// Wound is what became of the axis.
type Wound uint8

// The axis goes the shortest way, or has to turn back for want of room, or it
// cannot turn so at all.
const (
	Shortest Wound = iota
	Back
	Nowhere
)

// Follow fills in what the motion leaves open.
func (w *Winding) Follow(m *move.Move) Wound {
	form := w.rules.Rotation
	if form != Vertical && form != Quaternion || !m.Kind.IsMotion() {
		return Shortest
	}
	a := &w.rules.Coordinates(m).RPY
	how := Shortest
	if !w.known || *a != w.last {
		if w.last = *a; form == Vertical {
			how = w.wind(a.Rot())
		} else {
			w.sign(a.Rot())
		}
		w.known = true
	}
	m.Turn, m.Negated = w.turn, w.negated
	return how
}

// wind turns the axis to where the tool's X axis lies along (cos, sin) of it, seen from
// above. Of two ways as long it takes the one that ends nearer to 0, of these the
// one forwards.
func (w *Winding) wind(r geom.Rot) Wound {
	x := r.Column(0)
	turn, from := geom.Atan2(x.Y, x.X), w.turn
	first := turn - 360*math.Floor((turn-w.from+w.dust)/360) // the lowest in the range
	if first > w.to+w.dust {
		w.turn = turn
		return Nowhere
	}
	w.turn = first
	for next := first + 360; next <= w.to+w.dust; next += 360 {
		if way, before := math.Abs(next-from), math.Abs(w.turn-from); way < before-w.dust || way <= before+w.dust && math.Abs(next) <= math.Abs(w.turn)+w.dust {
			w.turn = next
		}
	}
	if w.way = math.Abs(w.turn - from); w.known && w.way > 180+w.dust {
		return Back
	}
	return Shortest
}

// sign writes the quaternion that lies nearer to the last one.
func (w *Winding) sign(r geom.Rot) {
	var q [4]float64
	q[0], q[1], q[2], q[3] = r.Quaternion()
	dot := 0.0
	for i := range q {
		dot += float64(q[i] * w.written[i])
	}
	if w.negated = dot < 0; w.negated {
		for i := range q {
			q[i] = 0 - q[i]
		}
	}
	w.written = q
}
