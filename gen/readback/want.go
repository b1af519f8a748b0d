package readback

import (
	"math"
	"strings"
	"unicode"

	"gridferry/gen/family"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Delta is one field in which a line and the move list part. Quantities are in
// mm, degrees, seconds, kg, mm/s; a frame or a tool is its number.
type Delta struct {
	Field     family.Field
	Want, Got float64
	Lacks     bool // the program has no such value
}

// judge holds what is read to what is listed: within half a unit of the last
// decimal that the family writes.
type judge struct {
	rules *family.Rules
	half  [family.Fields]float64
}

func newJudge(rules *family.Rules, machine float64) *judge {
	j := &judge{rules: rules}
	for f := family.NoField + 1; f < family.Fields; f++ {
		j.half[f] = 1e-6 // frames, signals, levels: numbers that count
		if q, measured := quantityOf(f); measured {
			j.half[f] = rules.HalfStep(q, machine)
		}
	}
	return j
}

// slack is for the two roundings between a value and its figure.
func slack(want float64) float64 { return 1e-9 + 1e-12*math.Abs(want) }

// deltas are the fields of known in which an item parts from its move.
func (j *judge) deltas(item *Item, m *move.Move, known family.FieldSet) []Delta {
	want := j.wanted(m)
	if item.Kind == move.Await && m.Seconds == 0 {
		known &^= setOf(family.ReadGoOn) // there is no time-out to go on after
	}
	deltas := j.differing(&item.Values, &want, known)
	if known.Has(family.ReadTarget) && !sameWords(item.Target, m.Target) {
		deltas = append(deltas, Delta{Field: family.ReadTarget, Lacks: !item.Has.Has(family.ReadTarget)})
	}
	return deltas
}

// differing compares the numbers of two sets of values.
func (j *judge) differing(got, want *Values, known family.FieldSet) []Delta {
	var deltas []Delta
	for f := family.NoField + 1; f < family.Fields; f++ {
		if !known.Has(f) || !want.Has.Has(f) {
			continue
		}
		lacks := !got.Has.Has(f)
		if lacks || !(math.Abs(j.off(f, got.Number[f], want.Number[f])) <= j.half[f]+slack(want.Number[f])) {
			deltas = append(deltas, Delta{f, want.Number[f], got.Number[f], lacks})
		}
	}
	return deltas
}

// off is how far a value lies from the one that is wanted. Angles a whole turn
// apart are the same pose; for the one axis that turns about the vertical they
// are not, and a turn is written above -180 and up to 180 degrees.
func (j *judge) off(f family.Field, got, want float64) float64 {
	switch f {
	case family.ReadTurn:
		if got <= -180+j.half[f] || got > 180+j.half[f] {
			return got - want
		}
		return shortWay(got - want)
	case family.ReadRoll, family.ReadPitch, family.ReadYaw, family.ReadTurn1, family.ReadTurn2, family.ReadTurn3:
		return shortWay(got - want)
	}
	return got - want
}

// shortWay is an angle without whole turns.
func shortWay(angle float64) float64 {
	if math.Abs(angle) < 180 {
		return angle
	}
	return math.Remainder(angle, 360)
}

// wanted is a move's own values, in every form that a family could write.
func (j *judge) wanted(m *move.Move) Values {
	var v Values
	switch m.Kind {
	case move.Select:
		j.putChosen(&v, m)
	case move.Travel, move.Straight:
		j.putChosen(&v, m)
		at := m.At
		if j.rules.BaseCoordinates {
			at = m.Base
		}
		putPlace(&v, at, j.rules.Rotation)
		v.set(family.ReadSpeed, m.Speed)
		v.set(family.ReadBlend, m.Blend)
	case move.Grip, move.Release, move.Set, move.Await:
		v.set(family.ReadSignal, float64(m.Signal))
		v.set(family.ReadLevel, truth(m.Level))
		v.set(family.ReadTime, m.Seconds)
		v.set(family.ReadGoOn, truth(m.GoOn))
	case move.Dwell:
		v.set(family.ReadTime, m.Seconds)
	}
	return v
}

func (j *judge) putChosen(v *Values, m *move.Move) {
	v.set(family.ReadFrame, float64(m.FrameNumber))
	v.set(family.ReadTool, float64(m.ToolNumber))
	v.set(family.ReadLoad, m.Load)
}

func truth(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

// putPlace puts a pose in the form that the family writes rotations in.
func putPlace(v *Values, at move.Point, form family.RotationForm) {
	v.set(family.ReadX, at.X)
	v.set(family.ReadY, at.Y)
	v.set(family.ReadZ, at.Z)
	if form == family.FixedXYZ {
		v.put3(family.ReadRoll, at.Roll, at.Pitch, at.Yaw)
		return
	}
	turn := at.RPY.Rot()
	switch form {
	case family.Vertical:
		// Straight down, the tool's X axis tells the turn; seen from above it lies
		// along (cos, sin) of it.
		x := turn.Column(0)
		v.set(family.ReadTurn, geom.Atan2(x.Y, x.X))
	case family.MovingZYX:
		v.put3(family.ReadTurn1, at.Yaw, at.Pitch, at.Roll)
	case family.MovingZYZ:
		v.put3(family.ReadTurn1, values3(turn.EulerZYZ())...)
	case family.Quaternion:
		w, x, y, z := turn.Quaternion()
		v.set(family.ReadQW, w)
		v.put3(family.ReadQX, x, y, z)
	case family.RotationVector:
		r := turn.Vector()
		v.put3(family.ReadRX, r.X, r.Y, r.Z)
	}
}

func values3(a, b, c float64) []float64 { return []float64{a, b, c} }

// put3 sets a field and the ones behind it.
func (v *Values) put3(first family.Field, values ...float64) {
	for i, value := range values {
		v.set(first+family.Field(i), value)
	}
}

// sameWords compares what a text says to people with a target: letters and
// digits, in either case. A text that was cut ends in three full stops. The
// height tells a slot from the point above it; the words need not.
func sameWords(got string, target move.Target) bool {
	cut := strings.HasSuffix(got, "...")
	got, whole := letters(got), letters(target.String())
	target.Approach = false
	return got == whole || got == letters(target.String()) || cut && strings.HasPrefix(whole, got)
}

func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}
