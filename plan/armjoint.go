package plan

import (
	"fmt"
	"math"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// ArmJoint is a joint: by its axis in the arm's coordinates, with all joints at 0, or by its row
// of a Denavit-Hartenberg table. A joint of a URDF file has neither.
type ArmJoint struct {
	Name         Text
	Place        diag.Place
	Slides       bool   // its readings are mm, else degrees
	Axis         Vector // of any length but 0
	Point        Vector // mm; not set for one that slides
	Row          DHRow
	Range        Pair // degrees or mm
	Speed        Real // degrees/s or mm/s
	Acceleration Real // degrees/s² or mm/s²

	axis, way         Vector
	span, rate, climb decode.Node // until it is known whether the joint slides
	variable          Text
}

// DHRow is the four figures of a row; its joint adds its reading to Theta, or to D if it slides.
type DHRow struct{ A, Alpha, D, Theta Real }

// The words of "convention".
const (
	StandardDH = "standard"
	ModifiedDH = "modified"
)

// figuresKeys are what all joints have.
func (j *ArmJoint) figuresKeys() []decode.Key {
	return []decode.Key{
		decode.May("name", "What the joint is called; no two alike.", decode.Name(&j.Name)).Else("`J1`, `J2` and so on, by its place"),
		decode.Must("range", "From and to, in degrees or mm; the smaller figure first.", later(&j.span, j.ranged(unit.Angle), j.ranged(unit.Length))),
		decode.May("speed", "How fast it may go, in deg/s or mm/s.", later(&j.rate, positive(&j.Speed, unit.AngularSpeed), positive(&j.Speed, unit.Speed))).Else(unknown),
		decode.May("acceleration", "How fast it may come to that, in deg/s² or mm/s².", later(&j.climb, positive(&j.Acceleration, unit.AngularAcceleration), positive(&j.Acceleration, unit.Acceleration))).Else(unknown),
	}
}

// later keeps a value until it is known whether its joint turns or slides.
func later(dst *decode.Node, turning, sliding decode.Form) decode.Form {
	either := func() schema.Schema { return schema.Or(turning.Schema(), sliding.Schema()) }
	return decode.Own(either, func(_ *decode.Reader, n decode.Node) { *dst = n })
}

func positive(dst *Real, d unit.Dimension) decode.Form {
	return decode.Quantity(dst, d, decode.Positive)
}

func (j *ArmJoint) ranged(d unit.Dimension) decode.Form { return rangeIn(&j.Range, d, decode.Any) }

// figures reads what was kept.
func (j *ArmJoint) figures(r *decode.Reader) {
	along, speed, acceleration := unit.Angle, unit.AngularSpeed, unit.AngularAcceleration
	if j.Slides {
		along, speed, acceleration = unit.Length, unit.Speed, unit.Acceleration
	}
	if !j.span.IsZero() {
		j.ranged(along).Read(r, j.span)
	}
	if !j.rate.IsZero() {
		positive(&j.Speed, speed).Read(r, j.rate)
	}
	if !j.climb.IsZero() {
		positive(&j.Acceleration, acceleration).Read(r, j.climb)
	}
}

// joints reads axes.
func (a *Arm) joints() decode.Form {
	return a.manyJoints("joints", func(j *ArmJoint) decode.Form {
		keys := append([]decode.Key{
			decode.May("axis", "The direction of the axis that the joint turns about: [x, y, z], whose length says nothing; a positive reading turns counter-clockwise seen against it.",
				directed(&j.axis, "write the direction of the axis, such as [0, 0, 1]")),
			decode.May("slides", "Instead of `axis`: the direction in which the joint slides with a positive reading.", directed(&j.way, "write the direction in which it slides, such as [1, 0, 0]")),
			decode.May("point", "A point that the axis goes through: x, y, z in mm; needed with `axis`.", decode.Vector(&j.Point)),
		}, j.figuresKeys()...)
		rules := []schema.Rule{schema.OneWay([]string{"axis", "point"}, []string{"slides"}), schema.NeverBoth([]string{"slides", "axis"}, []string{"slides", "point"})}
		return decode.At(&j.Place, decode.Object{What: "a joint", Keys: keys, Rules: rules, Check: func(r *decode.Reader, written decode.Written) { a.axis(r, j, written) }})
	})
}

// axis holds a joint to one way of moving.
func (a *Arm) axis(r *decode.Reader, j *ArmJoint, written decode.Written) {
	j.Slides, j.Axis = written.Has("slides"), j.axis
	if j.Slides {
		j.Axis = j.way
	}
	switch {
	case written == nil:
	case j.Slides && (written.Has("axis") || written.Has("point")):
		other := "axis"
		if !written.Has(other) {
			other = "point"
		}
		r.List.Errorf("two-placements", written[other], "a joint that slides has no %q", other).
			WithNote(written["slides"], "\"slides\" stands here").WithHint("keep \"slides\" alone, or \"axis\" with \"point\"")
		j.Axis = Vector{}
	case !j.Slides && !written.Has("axis"):
		r.List.Errorf("missing-key", j.Place, "a joint needs \"axis\" or \"slides\"").WithHint("it turns about an axis, or slides in a direction")
	case !j.Slides && !written.Has("point"):
		r.List.Errorf("missing-key", j.Place, "a joint that turns needs \"point\"").WithHint("write a point that its axis goes through, with all joints at 0, such as [0, 0, 300]")
	}
	j.figures(r)
	a.Unread = a.Unread || !j.Axis.IsSet() || !j.Slides && !j.Point.IsSet() || !j.Range.IsSet()
}

// directed reads a direction that is one.
func directed(dst *Vector, hint string) decode.Form {
	return decode.Then(decode.Direction(dst), func(r *decode.Reader, _ decode.Node) {
		v := dst.V
		if dst.IsSet() && math.Hypot(math.Hypot(v[0], v[1]), v[2]) < shortest {
			r.List.Errorf("no-direction", dst.Place, "[%g, %g, %g] has no direction", v[0], v[1], v[2]).WithHint("%s", hint)
			*dst = Vector{}
		}
	})
}

// dh is a Denavit-Hartenberg table as it is written.
type dh struct{ convention Text }

func (d *dh) form(a *Arm) decode.Form {
	rows := a.manyJoints("rows", func(j *ArmJoint) decode.Form {
		keys := append([]decode.Key{
			decode.May("a", "Length of the link, in mm.", decode.Quantity(&j.Row.A, unit.Length, decode.Any)).Default(0),
			decode.May("alpha", "Twist of the link, in degrees.", decode.Quantity(&j.Row.Alpha, unit.Angle, decode.Any)).Default(0),
			decode.May("d", "Offset along the joint's axis, in mm.", decode.Quantity(&j.Row.D, unit.Length, decode.Any)).Default(0),
			decode.May("theta", "Angle about the joint's axis, in degrees.", decode.Quantity(&j.Row.Theta, unit.Angle, decode.Any)).Default(0),
			decode.May("variable", "What the joint adds its reading to: to `theta`, it turns; to `d`, it slides.", decode.OneOf(&j.variable, "theta", "d")).Default("theta"),
		}, j.figuresKeys()...)
		return decode.At(&j.Place, decode.Object{What: "a row", Keys: keys, Check: func(r *decode.Reader, written decode.Written) {
			j.Slides = j.variable.V == "d"
			j.figures(r)
			a.Unread = a.Unread || !j.Range.IsSet()
			for key, v := range map[string]Real{"a": j.Row.A, "alpha": j.Row.Alpha, "d": j.Row.D, "theta": j.Row.Theta} {
				a.Unread = a.Unread || written.Has(key) && !v.IsSet()
			}
		}})
	})
	return decode.Object{What: "dh", Keys: []decode.Key{
		decode.Must("convention", "Whose rows they are.", decode.OneOf(&d.convention, StandardDH, ModifiedDH)),
		decode.Must("rows", "One for each joint, from the base on.", rows),
	}, Check: func(*decode.Reader, decode.Written) {
		a.DH = d.convention
		a.Unread = a.Unread || !d.convention.IsSet()
	}}
}

// manyJoints reads a list of joints into those of the arm, and names those that have no name.
func (a *Arm) manyJoints(what string, form func(*ArmJoint) decode.Form) decode.Form {
	list := decode.List{What: what, Each: func() decode.Form { return form(added(&a.Joints, ArmJoint{})) }}
	bounded := decode.Under(list, schema.With("minItems", 1), schema.With("maxItems", MostJoints))
	return decode.Then(bounded, func(r *decode.Reader, n decode.Node) {
		switch count := len(a.Joints); {
		case !decode.IsList(n):
			a.Unread = true
		case count == 0 || count > MostJoints:
			a.Unread = true
			r.List.Errorf("wrong-length", n.Place(), "the arm has %d joints, wanted 1 to %d", count, MostJoints).WithHint("six joints reach every pose; a seventh may be a rail that the arm rides on")
		default:
			a.nameJoints(r)
		}
	})
}

func (a *Arm) nameJoints(r *decode.Reader) {
	first := map[string]diag.Place{}
	for i, j := range a.Joints {
		if !j.Name.IsSet() {
			j.Name = Text{V: fmt.Sprint("J", i+1), Place: j.Place}
		}
		if at, taken := first[j.Name.V]; taken {
			r.List.Errorf("repeated-name", j.Name.Place, "two joints are named %q", j.Name.V).WithNote(at, "the first one stands here").WithHint("give each joint a name of its own")
		}
		first[j.Name.V] = j.Name.Place
	}
}
