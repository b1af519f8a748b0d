package reads

import (
	"math/bits"
	"strings"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// SetOf is the set of these fields.
func SetOf(fields ...Field) FieldSet {
	var set FieldSet
	for _, f := range fields {
		set = set.With(f)
	}
	return set
}

// Sets of fields that belong together. Turns is those of every form of a rotation, Pose
// the position and those, Chosen what a select chooses, Centre the load's centre of gravity,
// Inertia its moments of inertia, Output an output or an input.
var (
	Turns = SetOf(Roll, Pitch, Yaw, Turn, Turn1, Turn2, Turn3,
		QW, QX, QY, QZ, RX, RY, RZ)
	Pose    = SetOf(X, Y, Z) | Turns
	Chosen  = SetOf(Frame, Tool, Load)
	Output  = SetOf(Signal, Level)
	Centre  = SetOf(CentreX, CentreY, CentreZ)
	Inertia = SetOf(InertiaX, InertiaY, InertiaZ)

	// Posture is how the arm stands.
	Posture = SetOf(Joint1, Joint2, Joint3, Joint4, Joint5, Joint6, Joint7,
		Quarter1, Quarter2, Quarter3, Quarter4, Quarter5, Quarter6, Quarter7, Shoulder, Elbow, Wrist)

	motion = Pose | Posture | Chosen | SetOf(Speed, FlyBy, Target, N)
)

var about [move.NumKinds]FieldSet = [...]FieldSet{
	move.Select:   Chosen | Centre | Inertia | SetOf(N, ByHand),
	move.Travel:   motion,
	move.Straight: motion,
	move.Grip:     Output | SetOf(N),
	move.Release:  Output | SetOf(N),
	move.Set:      Output | SetOf(N),
	move.Await:    Output | SetOf(Time, GoOn, N),
	move.Dwell:    SetOf(Time, N),
	move.Note:     0,
}

// About is the fields that mean something for a kind of move: those that a line of it is
// compared by. A note has none.
func About(kind move.Kind) FieldSet { return about[kind] }

// turnsOf is the fields of one form of a rotation.
var turnsOf = map[rules.RotationForm]FieldSet{
	rules.FixedXYZ: SetOf(Roll, Pitch, Yaw), rules.Vertical: SetOf(Turn),
	rules.MovingZYX: SetOf(Turn1, Turn2, Turn3), rules.MovingZYZ: SetOf(Turn1, Turn2, Turn3),
	rules.Quaternion: SetOf(QW, QX, QY, QZ), rules.RotationVector: SetOf(RX, RY, RZ),
}

// CheckFields refuses fields that say nothing about what a line means: they would be
// read and compared with nothing, and a check that people count on would not take place.
// Turns of another form than the family's are one mistake, wherever they stand.
func (r *Reads) CheckFields(list *diag.List, form rules.RotationForm, formAt diag.Place) {
	otherForm := false
	for i := range r.Entries {
		e := &r.Entries[i]
		allowed, what := e.allowed(form)
		if what == "" {
			continue
		}
		meaningless := e.fields() &^ allowed
		if turned := meaningless & Turns; turned != 0 && allowed&Turns != 0 {
			if !otherForm {
				otherForm = true
				list.Errorf("bad-reading", e.placeOf(turned.First()), "%s not written with \"rotation: %s\", so that nothing would be compared with %s",
					turned.inWords("is", "are"), form, turned.pronoun()).
					WithHint("that form has: %s", strings.Join((allowed&Turns).names(), ", ")).
					WithNote(formAt, "the rotation")
			}
			meaningless &^= Turns
		}
		if meaningless != 0 {
			list.Errorf("bad-reading", e.placeOf(meaningless.First()), "%s nothing about %s, so that nothing would be compared with %s",
				meaningless.inWords("says", "say"), what, meaningless.pronoun()).
				WithHint("compared are: %s; what does not matter is written as a pattern of its own, such as [0-9.]+", strings.Join(allowed.names(), ", "))
		}
	}
}

// inWords is fields with a verb: the field "x" says, the fields "x", "y" say.
func (s FieldSet) inWords(one, many string) string {
	names := strings.Join(s.names(), `", "`)
	if s&(s-1) == 0 {
		return `the field "` + names + `" ` + one
	}
	return `the fields "` + names + `" ` + many
}

func (s FieldSet) pronoun() string {
	if s&(s-1) == 0 {
		return "it"
	}
	return "them"
}

// First is the first field of a set that is not empty.
func (s FieldSet) First() Field { return Field(bits.TrailingZeros64(uint64(s))) }

// allowed is the fields that lines of an entry can be compared by, and what such a line
// is in words; "" where nothing is ever compared and any field will do.
func (e *Entry) allowed(form rules.RotationForm) (FieldSet, string) {
	switch e.Means {
	case MeansFrame:
		return ofForm(Pose, form.OfEntry()) | SetOf(Number, Name), "an entry of the frames"
	case MeansTool:
		return ofForm(Pose, form.OfEntry()) | Centre | Inertia | SetOf(Number, Name, Mass), "an entry of the tools"
	case MeansPoint:
		return written(ofForm(Pose|Posture, form)|SetOf(Frame, Number, Name)) &^ SetOf(Point, PointNumber), "an entry of the points"
	case MeansBegun:
		return written(ofForm(motion, form) &^ SetOf(Target, FlyBy)), "a motion that is begun"
	case MeansMode: // no output, level or target: those a move's own line has to say
		return written(ofForm(motion, form)&^SetOf(Target, N) | SetOf(Time, GoOn)), "all moves behind it, which a mode is for"
	case MeansMove:
		if e.Kinds == nil {
			return written(ofForm(About(e.Kind), form)), wordsOf(e.Kind)
		}
		all := SetOf(Kind)
		for _, kind := range e.Kinds {
			all |= About(kind)
		}
		return written(ofForm(all, form)), "the moves of this row"
	case MeansText:
	}
	return 0, ""
}

// wordsOf is a kind of move in words; "" for one that is never compared.
func wordsOf(kind move.Kind) string {
	if About(kind) == 0 {
		return ""
	}
	return "a " + kind.String()
}

// ofForm leaves out the turns that a form of a rotation does not have.
func ofForm(set FieldSet, form rules.RotationForm) FieldSet { return set &^ (Turns &^ turnsOf[form]) }

// written adds the other ways to write the fields of a set.
func written(set FieldSet) FieldSet {
	if set.Has(Frame) {
		set |= SetOf(FrameNumber, FramePlace)
	}
	if set.Has(Tool) {
		set |= SetOf(ToolNumber, ToolPlace)
	}
	if set.Has(X) {
		set |= SetOf(Point, PointNumber)
	}
	return set
}

func (s FieldSet) names() []string {
	var names []string
	for f := NoField + 1; f < Fields; f++ {
		if s.Has(f) {
			names = append(names, f.String())
		}
	}
	return names
}
