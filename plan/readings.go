package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// Joints is readings of all joints of the arm, in their order: degrees or mm.
type Joints struct {
	Readings []Real // nil where none are written, or not readable
	written  decode.Node
}

func (j *Joints) key(need func(name, doc string, form decode.Form) decode.Key) decode.Key {
	each := func() schema.Schema {
		turning, sliding := decode.Quantity(nil, unit.Angle, decode.Any), decode.Quantity(nil, unit.Length, decode.Any)
		return schema.Each(schema.Or(turning.Schema(), sliding.Schema())).With("minItems", 1).With("maxItems", MostJoints)
	}
	keep := func(_ *decode.Reader, n decode.Node) { j.written = n }
	return need("joints", "The readings of all joints of the arm, in their order, in degrees or mm.", decode.Own(each, keep))
}

// read reads what was kept, now that the arm's joints are known. Outside says that readings may be
// outside of the ranges.
func (j *Joints) read(r *reader, a *Arm, outside bool) {
	n := j.written
	if n.IsZero() || a.Unread {
		return
	}
	if !decode.IsList(n) {
		r.WrongType(n, "a list of the readings of all joints")
		return
	}
	items := n.Items()
	if len(items) != len(a.Joints) {
		r.List.Errorf("wrong-length", n.Place(), "the list has %d readings, but the arm has %d joints", len(items), len(a.Joints)).
			WithNote(a.Place, "the arm stands here").WithHint("write a reading for each joint, from the base on")
		return
	}
	all := make([]Real, len(items))
	for i, item := range items {
		d := unit.Angle
		if a.Joints[i].Slides {
			d = unit.Length
		}
		if decode.Quantity(&all[i], d, decode.Any).Read(&r.Reader, item); !all[i].IsSet() {
			return
		}
		if lo, hi := a.Joints[i].Range.V[0], a.Joints[i].Range.V[1]; !outside && (all[i].V < lo || all[i].V > hi) {
			r.List.Errorf("out-of-range", all[i].Place, "the joint %q is at %g, wanted %g to %g", a.Joints[i].Name.V, all[i].V, lo, hi).
				WithNote(a.Joints[i].Range.Place, "its range is given here").WithHint("no drive goes there")
			return
		}
	}
	j.Readings = all
}

// readings reads all that is written of joints, once the arm is known.
func (r *reader) readings(c *Cell) {
	if c.Arm != nil {
		r.armFile(c.Arm)
		if !c.Arm.Unread {
			r.knownLinks(c.Arm)
		}
		for _, k := range c.Arm.Known {
			k.read(r, c.Arm, true)
		}
	}
	for _, p := range c.Poses {
		switch {
		case p.Joints.written.IsZero():
		case c.Arm != nil:
			p.Joints.read(r, c.Arm, false)
		default:
			r.List.Errorf("joints-without-arm", p.Joints.written.Place(), "the pose %q is given by the readings of joints, but the cell does not say what the arm's joints are", p.Name.V).
				WithHint("add \"arm\" to the cell, or write the pose with \"at\" and \"rpy\"")
		}
	}
}
