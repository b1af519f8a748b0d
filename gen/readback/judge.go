package readback

import (
	"math"
	"strings"
	"unicode"

	"gridferry/gen/arm"
	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Delta is one field in which a line and the move list part. Quantities are in
// mm, degrees, seconds, kg, mm/s; a frame or a tool is its number.
type Delta struct {
	Field     reads.Field
	Want, Got float64
	Lacks     bool   // the program has no such value
	Unit      string // of both values
}

// Judge holds what is read to what is listed: within half a unit of the last
// decimal that the family writes or, of a figure that it rounds down, less than a
// whole one below.
type Judge struct {
	rules *rules.Rules
	half  [reads.Fields]float64
	reach [reads.Fields]reach
	units [reads.Fields]string
	wants [move.NumKinds]reads.FieldSet // what a kind of move has, in the form that the family writes

	want    reads.Values // of the move that was judged last, in the form that the family writes
	turned  geom.RPY     // the rotation that its turns are of
	negated bool         // see move.Move.Turn
}

// NewJudge returns the judge of programs of a job by these rules.
func NewJudge(r *rules.Rules, job *move.Job) *Judge {
	j := &Judge{rules: r}
	for f := reads.NoField + 1; f < reads.Fields; f++ {
		j.units[f] = f.UnitIn(job)
		j.half[f] = 1e-6 // frames, signals, levels: numbers that count
		if q, measured := f.QuantityIn(job); measured {
			j.half[f] = r.HalfStep(q, job.Speed)
			j.reach[f].below, j.reach[f].above = r.Reach(q, job.Speed)
		} else {
			j.reach[f] = reach{j.half[f], j.half[f]}
		}
	}
	putTurn(&j.want, j.turned, j.rules.Rotation)
	turns := j.want.Has
	for _, kind := range move.Kinds {
		j.wants[kind] = reads.About(kind) &^ reads.Turns.With(reads.Target)
		if kind.IsMotion() {
			j.wants[kind] |= turns
		}
	}
	return j
}

// Half is half a unit of the last decimal of a field.
func (j *Judge) Half(f reads.Field) float64 { return j.half[f] }

// reach is how far below and above a value its figure may lie. Where nothing may lie
// above, the figure was cut off, and lies less than a whole step below.
type reach struct{ below, above float64 }

// has reports whether a figure may lie so far off the value that is wanted. There are two
// roundings between the two.
func (r reach) has(off, want float64) bool {
	if r.above == 0 {
		return r.hasCut(off, want)
	}
	slack := 1e-9 + 1e-12*math.Abs(want)
	return -r.below-slack <= off && off <= r.above+slack
}

// hasCut is has for a figure that was cut off: above the value by no more than the noise
// that is left out (rules.AppendBelow), and no whole step below that, which is where the
// next figure lies. Slack is for the few roundings between a value and its figure.
func (r reach) hasCut(off, want float64) bool {
	noise, slack := min(1e-9*math.Abs(want), r.below/2), 2e-15*math.Abs(want)
	return noise-r.below-slack < off && off <= noise+slack
}

// Deltas are the fields of known in which an item parts from its move.
func (j *Judge) Deltas(item *reads.Item, m *move.Move, known reads.FieldSet) []Delta {
	if item.Kind == move.Await && m.Seconds == 0 {
		known &^= reads.SetOf(reads.GoOn) // there is no time-out to go on after
	}
	j.wantOf(m, known)
	deltas := j.Differing(&item.Values, &j.want, known)
	if known.Has(reads.Target) && !sameWords(item.Target, m.Target) {
		deltas = append(deltas, Delta{Field: reads.Target, Lacks: !item.Has.Has(reads.Target)})
	}
	return deltas
}

// Differing compares the numbers of two sets of values.
func (j *Judge) Differing(got, want *reads.Values, known reads.FieldSet) []Delta {
	var deltas []Delta
	for rest := known & want.Has; rest != 0; rest &= rest - 1 {
		f := rest.First()
		if got.Has.Has(f) && got.Number[f]-want.Number[f] == 0 {
			continue // as nearly every one does
		}
		if j.differs(f, got, want.Number[f]) {
			deltas = append(deltas, j.deltaOf(f, got, want.Number[f]))
		}
	}
	return deltas
}

func (j *Judge) deltaOf(f reads.Field, got *reads.Values, want float64) Delta {
	return Delta{f, want, got.Number[f], !got.Has.Has(f), j.units[f]}
}

// differs reports whether a field lacks, or its value is another one than is wanted.
func (j *Judge) differs(f reads.Field, v *reads.Values, want float64) bool {
	got := v.Number[f]
	if !v.Has.Has(f) {
		return true
	}
	return !j.reach[f].has(j.off(f, got, want), want)
}

// off is how far a value lies from the one that is wanted. Angles a whole turn
// apart are the same pose; for the one axis that turns about the vertical they are not.
func (j *Judge) off(f reads.Field, got, want float64) float64 {
	switch f {
	case reads.Roll, reads.Pitch, reads.Yaw, reads.Turn1, reads.Turn2, reads.Turn3:
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

// wantOf fills in what a move has of the fields that its kind has, those of its posture only as far
// as they are known. Field by field, judging takes 1.6 times the work.
func (j *Judge) wantOf(m *move.Move, known reads.FieldSet) {
	want := &j.want
	want.Has = j.wants[m.Kind]
	want.Number[reads.N] = float64(m.N)
	switch m.Kind {
	case move.Select:
		j.wantChosen(m)
		want.Number[reads.ByHand] = truth(m.ByHand)
		putVec(want, reads.CentreX, m.Centre())
		putVec(want, reads.InertiaX, m.Inertia())
	case move.Travel, move.Straight:
		j.wantChosen(m)
		j.wantPlace(m)
		want.Number[reads.Speed], want.Number[reads.FlyBy] = m.Speed, m.FlyBy
		for rest := known & reads.Posture; rest != 0; rest &= rest - 1 {
			want.Number[rest.First()] = posture(m, rest.First())
		}
	case move.Grip, move.Release, move.Set, move.Await, move.Dwell:
		want.Number[reads.Signal], want.Number[reads.Level] = float64(m.Signal), truth(m.Level)
		want.Number[reads.Time], want.Number[reads.GoOn] = m.Seconds, truth(m.GoOn)
	case move.Note:
	}
}

func (j *Judge) wantChosen(m *move.Move) {
	j.want.Number[reads.Frame], j.want.Number[reads.Tool] = float64(m.FrameNumber), float64(m.ToolNumber)
	j.want.Number[reads.Load] = m.Load
}

// wantPlace fills in where a motion ends and how the tool is turned there. That is worked out again
// when it is another rotation than before, to the last bit.
func (j *Judge) wantPlace(m *move.Move) {
	at := j.rules.Coordinates(m)
	putVec(&j.want, reads.X, at.Vec)
	if j.rules.Rotation == rules.Vertical {
		j.want.Number[reads.Turn] = m.Turn
		return
	}
	if at.RPY.Is(&j.turned) && m.Negated == j.negated {
		return
	}
	j.turned, j.negated = at.RPY, m.Negated
	has := j.want.Has
	putTurn(&j.want, j.turned, j.rules.Rotation)
	if j.want.Has = has; m.Negated {
		for rest := has & reads.Turns; rest != 0; rest &= rest - 1 {
			j.want.Number[rest.First()] = -j.want.Number[rest.First()]
		}
	}
}

func putVec(v *reads.Values, first reads.Field, of geom.Vec) {
	v.Number[first], v.Number[first+1], v.Number[first+2] = of.X, of.Y, of.Z
}

// posture is how the arm stands at the end of a motion. Where nothing is known of it no figure is
// right: a family that writes some gets no such plan.
func posture(m *move.Move, f reads.Field) float64 {
	switch {
	case m.Joints == nil:
		return math.NaN()
	case f >= reads.Shoulder:
		return truth(m.Configuration.Word(int(f-reads.Shoulder)) == arm.Side(int(f-reads.Shoulder), false))
	case f >= reads.Quarter1:
		return float64(arm.Quarter(m.Joints[f-reads.Quarter1]))
	}
	return m.Joints[f-reads.Joint1]
}

func truth(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

// putPlace puts a pose in the form that the family writes rotations in.
func putPlace(v *reads.Values, at move.Point, form rules.RotationForm) {
	v.Set(reads.X, at.X)
	v.Set(reads.Y, at.Y)
	v.Set(reads.Z, at.Z)
	putTurn(v, at.RPY, form)
}

func putTurn(v *reads.Values, turned geom.RPY, form rules.RotationForm) {
	switch form {
	case rules.FixedXYZ:
		v.Put3(reads.Roll, turned.Roll, turned.Pitch, turned.Yaw)
	case rules.Vertical:
		v.Set(reads.Turn, 0) // the move's own, see Judge.turned
	case rules.MovingZYX:
		v.Put3(reads.Turn1, turned.Yaw, turned.Pitch, turned.Roll)
	case rules.MovingZYZ:
		v.Put3(reads.Turn1, values3(turned.Rot().EulerZYZ())...)
	case rules.Quaternion:
		w, x, y, z := turned.Rot().Quaternion()
		v.Set(reads.QW, w)
		v.Put3(reads.QX, x, y, z)
	case rules.RotationVector:
		r := turned.Rot().Vector()
		v.Put3(reads.RX, r.X, r.Y, r.Z)
	}
}

func values3(a, b, c float64) []float64 { return []float64{a, b, c} }

// sameWords compares what a text says to people with a target: letters and
// digits, in either case. A text that was cut ends in three full stops. The
// height tells a slot from the point above it; the words need not.
func sameWords(got string, target move.Target) bool {
	cut := strings.HasSuffix(got, "...")
	got, whole := Letters(got), Letters(target.String())
	return got == whole || got == Letters(target.Below().String()) || cut && strings.HasPrefix(whole, got)
}

// Letters is the letters and digits of a text, in small letters.
func Letters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}
