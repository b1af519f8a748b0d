package urdf

import (
	"slices"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/unit"
	"gridferry/plan/wording"
)

// Read takes a file's text apart; nil where it is no URDF, or something in it is wrong, which is
// reported at its line and column.
func Read(file, text string, list *diag.List) *Robot {
	root := tree(file, text, list)
	if root == nil {
		return nil
	}
	if root.name != "robot" {
		list.Errorf("bad-urdf", root.at, "the file holds a <%s>, wanted <robot>", wording.Brief(root.name)).WithHint("name a URDF file")
		return nil
	}
	r := &reader{list: list, robot: &Robot{File: file, Name: root.attrs["name"].V}}
	r.need(root, "name")
	for _, e := range root.children {
		switch e.name {
		case "link":
			r.link(e)
		case "joint":
			r.joint(e)
		default:
			r.passOver(root, e, "link", "joint")
		}
	}
	r.whole(root)
	if r.wrong {
		return nil
	}
	return r.robot
}

// reader makes the robot of the elements.
type reader struct {
	list  *diag.List
	robot *Robot
	wrong bool
}

func (r *reader) errorf(rule string, at diag.Place, format string, args ...any) *diag.Finding {
	r.wrong = true
	return r.list.Errorf(rule, at, format, args...)
}

// passOver says of an element that nobody looks at what it may have been meant for.
func (r *reader) passOver(in, e *element, known ...string) {
	if slices.Contains(known, e.name) {
		return
	}
	if near := r.list.Nearest(e.name, known); near != "" {
		r.list.Warnf("urdf-passed-over", e.at, "<%s> in <%s> is passed over", wording.Brief(e.name), in.name).WithHint("did you mean <%s>?", near)
	}
}

// child is the only child of a name; nil for none.
func (r *reader) child(of *element, name string) *element {
	var found *element
	for _, e := range of.children {
		if e.name != name {
			continue
		}
		if found != nil {
			r.errorf("bad-urdf", e.at, "<%s> has <%s> twice", of.name, name).WithNote(found.at, "it stands here first").WithHint("keep one of the two")
		}
		found = e
	}
	return found
}

// need is an attribute that has to be there.
func (r *reader) need(e *element, attr string) Text {
	v := e.attrs[attr]
	switch {
	case v.Place.IsZero():
		r.errorf("missing-key", e.at, "<%s> needs %q", e.name, attr).WithHint("the format asks for it")
	case strings.TrimSpace(v.V) == "":
		r.errorf("bad-name", v.Place, "%q of <%s> is empty", attr, e.name).WithHint("the format asks for it")
	}
	return v
}

// named is the name of a link or a joint.
func (r *reader) named(e *element, attr string) Text {
	v := r.need(e, attr)
	if n := len(v.V); n > longestName {
		r.errorf("bad-name", v.Place, "the name %q has %d bytes, at most %d fit", wording.Brief(v.V), n, longestName).WithHint("shorten it everywhere in the file")
	}
	for _, c := range v.V {
		if c < ' ' || c == 0x7f {
			r.errorf("bad-name", v.Place, "the name %q holds the character %U", wording.Brief(v.V), c).WithHint("use letters, digits and \"_\"")
			break
		}
	}
	return v
}

func (r *reader) link(e *element) {
	l := &Link{Name: r.named(e, "name")}
	if len(r.robot.Links) == mostLinks {
		r.errorf("too-many-values", e.at, "the file has more than %d links", mostLinks).WithHint("keep the arm, and leave the rest out")
	}
	if len(r.robot.Links) >= mostLinks {
		r.robot.Links = append(r.robot.Links[:mostLinks], l)
		return
	}
	r.robot.Links = append(r.robot.Links, l)
	for _, c := range e.children {
		if c.name == "collision" {
			r.collision(l, c)
		} else {
			r.passOver(e, c, "collision", "visual", "inertial")
		}
	}
}

func (r *reader) collision(l *Link, e *element) {
	origin := r.origin(e)
	geometry := r.child(e, "geometry")
	if geometry == nil {
		r.errorf("missing-key", e.at, "<collision> needs <geometry>").WithHint("such as <geometry><box size=\"0.1 0.1 0.3\"/></geometry>")
		return
	}
	for _, c := range geometry.children {
		s := Shape{Origin: origin}
		switch c.name {
		case "box":
			s.Size = r.figures(c, "size", unit.Length, [3]float64{}, true)
			r.positive(c, "size", s.Size[:]...)
		case "cylinder":
			s.Round = true
			s.Length, s.Radius = r.figure(c, "length", unit.Length, true), r.figure(c, "radius", unit.Length, true)
			r.positive(c, "length", s.Length)
			r.positive(c, "radius", s.Radius)
		case "sphere":
			s.Round, s.Radius = true, r.figure(c, "radius", unit.Length, true)
			r.positive(c, "radius", s.Radius)
		case "mesh":
			l.Meshes = append(l.Meshes, r.need(c, "filename"))
			continue
		default:
			r.errorf("bad-urdf", c.at, "<geometry> has no <%s>", wording.Brief(c.name)).WithHint("it has: <box>, <cylinder>, <sphere>, <mesh>")
			continue
		}
		l.Shapes = append(l.Shapes, s)
	}
}

// positive holds sizes to more than 0.
func (r *reader) positive(e *element, attr string, values ...float64) {
	for _, v := range values {
		if at := e.attrs[attr]; !(v > 0) && !at.Place.IsZero() && !r.wrong {
			r.errorf("out-of-range", at.Place, "%q of <%s> is %q, wanted more than 0", attr, e.name, wording.Brief(at.V)).WithHint("lengths are in metres here")
			return
		}
	}
}

func (r *reader) joint(e *element) {
	j := &Joint{Name: r.named(e, "name"), Axis: [3]float64{1, 0, 0}, Origin: r.origin(e)}
	kind := r.need(e, "type")
	j.Kind, j.KindPlace = Kind(kind.V), kind.Place
	switch j.Kind {
	case Revolute, Continuous, Prismatic, Fixed, Floating, Planar, "":
	default:
		r.errorf("unknown-word", kind.Place, "the joint %q is of the type %q, wanted one of revolute, continuous, prismatic, fixed, floating, planar", j.Name.V, wording.Brief(kind.V)).
			WithHint("the format has no other types")
	}
	j.Parent, j.Child = r.end(e, "parent"), r.end(e, "child")
	if m := r.child(e, "mimic"); m != nil {
		j.Mimics = r.need(m, "joint")
	}
	r.axis(j, e)
	r.limits(j, e)
	for _, c := range e.children {
		r.passOver(e, c, "origin", "parent", "child", "axis", "limit", "mimic", "calibration", "dynamics", "safety_controller")
	}
	r.robot.Joints = append(r.robot.Joints, j)
}

// end is the link at one end of a joint.
func (r *reader) end(e *element, name string) Text {
	c := r.child(e, name)
	if c == nil {
		r.errorf("missing-key", e.at, "<joint> needs <%s>", name).WithHint("such as <%s link=\"NAME\"/>", name)
		return Text{}
	}
	return r.named(c, "link")
}

func (r *reader) origin(e *element) Origin {
	c := r.child(e, "origin")
	if c == nil {
		return Origin{}
	}
	for name, v := range c.attrs {
		if name == "quat_xyzw" {
			r.errorf("bad-urdf", v.Place, "<origin> is turned by a quaternion, wanted \"rpy\"").WithHint("write roll, pitch and yaw in radians, about the fixed X, then Y, then Z axes")
		}
	}
	return Origin{r.figures(c, "xyz", unit.Length, [3]float64{}, false), r.figures(c, "rpy", unit.Angle, [3]float64{}, false)}
}

func (r *reader) axis(j *Joint, e *element) {
	c := r.child(e, "axis")
	if c == nil {
		return
	}
	j.Axis = r.figures(c, "xyz", 0, j.Axis, false)
	if v := c.attrs["xyz"]; j.Moves() && j.Axis == [3]float64{} && !v.Place.IsZero() && !r.wrong {
		r.errorf("no-direction", v.Place, "the axis of the joint %q has no direction", j.Name.V).WithHint("write the direction that it turns about, or slides along, such as \"0 0 1\"")
	}
}

func (r *reader) limits(j *Joint, e *element) {
	c := r.child(e, "limit")
	along, speed := unit.Angle, unit.AngularSpeed
	if j.Slides() {
		along, speed = unit.Length, unit.Speed
	}
	if c != nil && j.Moves() {
		r.need(c, "effort")
		if j.Speed = r.figure(c, "velocity", speed, true); j.Speed < 0 {
			r.errorf("out-of-range", c.attrs["velocity"].Place, "the speed of the joint %q is less than 0", j.Name.V).WithHint("write how fast it may go, in either direction; 0 says that nobody knows")
		}
	}
	switch {
	case j.Kind == Continuous:
		j.Lo, j.Hi = -wholeTurn, wholeTurn
	case j.Kind != Revolute && j.Kind != Prismatic:
	case c == nil:
		r.errorf("missing-key", e.at, "the joint %q needs <limit>", j.Name.V).WithHint("such as <limit lower=\"-1.5\" upper=\"1.5\" effort=\"0\" velocity=\"2\"/>; a joint that turns without end is of the type \"continuous\"")
	default:
		j.Lo, j.Hi = r.figure(c, "lower", along, false), r.figure(c, "upper", along, false)
		if !(j.Lo < j.Hi) && !r.wrong {
			r.errorf("out-of-range", c.at, "the range of the joint %q goes from %.6g to %.6g, wanted the smaller figure first", j.Name.V, j.Lo, j.Hi).WithHint("\"lower\" and \"upper\" are 0 where they are left out")
		}
	}
}

// per is how a unit of the file is called: metres, radians, and both by seconds.
var per = map[unit.Dimension]string{unit.Length: " m", unit.Angle: " rad", unit.Speed: " m/s", unit.AngularSpeed: " rad/s"}

// figure is one figure in our units.
func (r *reader) figure(e *element, attr string, d unit.Dimension, needed bool) float64 {
	v := e.attrs[attr]
	if v.Place.IsZero() {
		if needed {
			r.need(e, attr)
		}
		return 0
	}
	x, ok := r.parse(strings.TrimSpace(v.V), d)
	if !ok {
		r.errorf("not-a-number", v.Place, "%q of <%s> is %q, wanted a number", attr, e.name, wording.Brief(v.V)).WithHint("write plain figures, without a unit; lengths are in metres, angles in radians")
	}
	return x
}

// figures is three of them.
func (r *reader) figures(e *element, attr string, d unit.Dimension, otherwise [3]float64, needed bool) [3]float64 {
	v := e.attrs[attr]
	if v.Place.IsZero() {
		if needed {
			r.need(e, attr)
		}
		return otherwise
	}
	words := strings.Fields(v.V)
	var out [3]float64
	ok := len(words) == len(out)
	for i := 0; ok && i < len(out); i++ {
		out[i], ok = r.parse(words[i], d)
	}
	if !ok {
		r.errorf("not-a-number", v.Place, "%q of <%s> is %q, wanted three numbers with blanks between them", attr, e.name, wording.Brief(v.V)).
			WithHint("write plain figures, without units; lengths are in metres, angles in radians")
		return otherwise
	}
	return out
}

// largest bounds a figure of a file in our units, so that sums and squares stay finite.
const largest = 1e9

// parse reads a figure; without a dimension as it is.
func (r *reader) parse(word string, d unit.Dimension) (float64, bool) {
	var x float64
	x, err := unit.ParseNumber(word)
	if err == nil && d != 0 {
		x, err = unit.Parse(word+per[d], d)
	}
	return x, err == nil && x <= largest && x >= -largest
}
