package check

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// whirl is how a motion turns the tool: evenly about one axis, while the TCP goes its
// straight way. What turns sweeps more room than it takes up at the two ends, and less
// than if it were turned both ways all along.
type whirl struct {
	by  geom.Vec // along the axis, in the tool, as long as the turn is wide, degrees
	k   int      // which body is looked at
	far float64  // how far that reaches from the axis through the TCP, mm
}

// fine is how far what is looked at may be off where it really is, mm, when it counts
// as if it were there: parts that turn closer by than this may be reported.
const fine = 0.05

// meets looks along the motion that is seen, for the tool and for the part in the
// gripper. Look gives how deep a body reaches into something: into anything deeper than
// the body's least, or less than that.
func (s *Scene) meets(look func(b *Body) float64) bool {
	if !s.turning() {
		bodies := s.Bodies()
		for i := range bodies {
			if look(&bodies[i]) > touch {
				return true
			}
		}
		return false
	}
	o := s.outline()
	for _, by := range s.whirls() {
		for k := range o.bodies {
			if s.within(&whirl{by, k, o.bodies[k].far}, 0, 1, look) {
				return true
			}
		}
	}
	return false
}

// whirls is the turn of the motion that is seen, the short way; of half a turn nobody
// knows which way it goes, so that both count.
func (s *Scene) whirls() []geom.Vec {
	const half = 180 - 1e-6
	by := s.From.Turn.T().Mul(s.To.Turn).Vector()
	if by.Norm() < half {
		return []geom.Vec{by}
	}
	return []geom.Vec{by, by.Scale(-1)}
}

// within looks at a part of the motion, from one share of it to another. The body stands
// in the middle of that part's turn, so that none of its points is farther off than the
// chord of half that turn (Body.Off). Where that leaves open whether it meets something,
// each half of the part is looked at for itself, until hardly anything is left open.
func (s *Scene) within(w *whirl, from, to float64, look func(b *Body) float64) bool {
	b := s.amid(w, from, to)
	deep := look(&b)
	switch {
	case deep <= b.least():
		return false
	case deep > touch+b.Off:
		return true
	case b.Off <= fine:
		b.Off = 0
		return look(&b) > touch
	}
	middle := (from + to) / 2
	return s.within(w, from, middle, look) || s.within(w, middle, to, look)
}

// amid is what turns, in the middle of a part of the motion.
func (s *Scene) amid(w *whirl, from, to float64) Body {
	way := s.To.At.Sub(s.From.At)
	at := geom.Pose{R: s.From.Turn.Mul(geom.RotFromVector(w.by.Scale((from + to) / 2))), T: s.From.At}
	sin, _ := geom.SinCos(w.by.Norm() * (to - from) / 4)
	if s.between == move.AxesPath { // the turn may be anywhere on the way
		from, to = 0, 1
	}
	at.T = at.T.Add(way.Scale(from))
	b := s.body(w.k, &at, way.Scale(to-from))
	b.Off = 2 * w.far * sin
	b.Bounds = b.Bounds.Wider(b.Off)
	return b
}
