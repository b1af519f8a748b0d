package plan

import (
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// CellFormat is the first line of every cell.
const CellFormat = "gridferry cell 1"

// Short names for values with their places.
type (
	Text   = decode.Value[string]
	Whole  = decode.Value[int]
	Level  = decode.Value[bool]
	Real   = decode.Value[float64]
	Vector = decode.Value[[3]float64]
	Pair   = decode.Value[[2]float64]
	// Quaternion is w x y z.
	Quaternion = decode.Value[[4]float64]
)

// Cell is what is bolted down and measured.
type Cell struct {
	Place   diag.Place
	Name    Text
	Machine Machine
	// TouchError is how far off one touch may be, in mm.
	TouchError Real
	Tools      []*Tool
	Arm        *Arm // nil where its joints are not known
	Frames     []*Frame
	Poses      []*NamedPose
	KeepOut    []*Box
	// HasKeepOut says that keep_out was written, be it empty: "nothing is in the way"
	// is not "not known".
	HasKeepOut bool
	Unread     Unread
}

// Unread says, for "tool", "frame" and the like, that there is no table to
// look such a name up in because of a mistake that was reported.
type Unread map[string]bool

// Machine is the arm's limits. What is not set is not known.
type Machine struct {
	RatedLoad    Real // kg on the flange
	Moment       Real // N·m about the flange's centre
	Speed        Real // mm/s of the TCP
	Acceleration Real // mm/s²
	Jerk         Real // mm/s³
	Rotation     Rotation
	Radius       Pair // mm from the base's Z axis
	Height       Pair // mm above the base
}

// Rotation is how fast the tool may be turned, and how far.
type Rotation struct {
	Range        Pair // degrees, of the axis of a vertical tool
	Speed        Real // deg/s
	Acceleration Real // deg/s²
}

// Tool is what is on the flange.
type Tool struct {
	Name            Text
	Place           diag.Place // of its keys
	TCP             Pose       // without At where Pivot is set
	Pivot           *Pivot     // the tool centre point as it was measured
	Mass            Real       // kg
	CentreOfGravity Vector     // mm, on the flange
	Inertia         Vector     // kg·m² about the centre of gravity, axes of the flange
	Radius          Real       // mm, of a cylinder about the line from flange to TCP that holds the tool
	Body            []*BodyBox // instead of Radius
	Grip, Release   Action     // unless there are zones
	Zones           []*Zone
	Fetch, Leave    Change
	Number          Whole // that the controller knows it by
}

// Pose is a place and an orientation as written: one of RPY and Quaternion, or
// neither.
type Pose struct {
	Place      diag.Place
	At         Vector
	RPY        Vector
	Quaternion Quaternion
}

// Frame is a named coordinate system, given by a pose or by touched points: by one
// of Pose, ThreePoints and BestFit.
type Frame struct {
	Name        Text
	Place       diag.Place
	Pose        Pose
	Parent      Text
	ThreePoints *ThreePoints
	BestFit     *BestFit
	Number      Whole // that the controller knows it by
}

// ThreePoints is a frame as it was touched, in the parent's coordinates.
type ThreePoints struct {
	Place                   diag.Place
	Origin, AlongX, TowardY Vector
}

// NamedPose is a named pose in free space: the TCP's, or where readings of the joints bring the flange.
type NamedPose struct {
	Name  Text
	Frame Text
	Pose  Pose
	Joints
}

// Box is a keep-out box: two opposite corners in a frame.
type Box struct {
	Name     Text
	Frame    Text
	From, To Vector
}

// cell reads a cell's keys.
func (r *reader) cell(text cellText) *Cell {
	if text.root.IsZero() {
		return nil // said already
	}
	c := &Cell{Place: text.root.Place(), Unread: Unread{"tool": true}} // until there is one
	r.cellAt = text
	r.cellForm(c, r.measurements(text.measured), text.inPlace).Read(&r.Reader, text.root)
	r.readings(c)
	return c
}

// cellForm is how a cell is written. In place the format line can be left out, since
// the plan around it has one.
func (r *reader) cellForm(c *Cell, measured *measurements, inPlace bool) decode.Form {
	format := decode.FirstLine(CellFormat, "cell")
	if inPlace {
		format = decode.May(format.Name, format.Doc, format.Form)
	}
	return decode.Object{What: "a cell", Rules: []schema.Rule{wholeUnlessMeasured}, Keys: []decode.Key{
		format,
		decode.May("name", "What the cell is called.", decode.Text(&c.Name)),
		decode.May("measured", "A file of measured values beside the cell; what it says takes the place of what the cell says.", decode.Own(decode.Text(nil).Schema, readBefore)),
		decode.May("touch_error", "How far off one touch may be, in mm.", decode.Quantity(&c.TouchError, unit.Length, decode.Positive)).Default(DefaultTouchError),
		decode.May("machine", "The arm's limits; what is not known is not checked, and `check` says so once.", c.Machine.form()),
		decode.May("arm", "The arm's joints: with them poses may be given by readings, and programs hold what the joints do. `machine` and this do not replace each other.", armForm(&c.Arm)),
		decode.Must("tools", "What is on the flange, by name; tools count from 1 in a program, unless `number` says otherwise.", c.Unread.table("tool", func(name Text) decode.Form {
			return decode.Under(added(&c.Tools, Tool{Name: name}).form(r.overlayOf(measured.tools, name.V)), partly, schema.Without("dependentRequired"), orNothing)
		})),
		decode.May("frames", "Named coordinate systems; in a program the base is number 1, and these count on from there, unless `number` says otherwise.", c.Unread.table("frame", func(name Text) decode.Form {
			return decode.Under(added(&c.Frames, Frame{Name: name}).form(r.overlayOf(measured.frames, name.V, placements...)), partly, orNothing)
		})),
		decode.May("poses", "Named poses in free space.", c.Unread.table("pose", func(name Text) decode.Form {
			return added(&c.Poses, NamedPose{Name: name}).form()
		})).Was("waypoints"),
		decode.May("keep_out", "Boxes to keep out of, by name; `{}` says that nothing is in the way.", decode.Table{What: "keep-out boxes", Each: func(name Text) decode.Form {
			return added(&c.KeepOut, Box{Name: name}).form()
		}}),
	}, Check: func(_ *decode.Reader, written decode.Written) {
		c.HasKeepOut = written.Has("keep_out")
		c.Unread.misspelt(written, "frame", "pose")
		r.unknownMeasurements(c, measured)
	}}
}

// armForm reads an arm, where there is one.
func armForm(dst **Arm) decode.Form {
	a := new(Arm)
	return keptAs(dst, a, a.form())
}

// added is one thing more in a list.
func added[T any](list *[]*T, thing T) *T {
	*list = append(*list, &thing)
	return &thing
}

// readBefore leaves a value alone that openCell has read.
func readBefore(*decode.Reader, decode.Node) {}

// misspelt marks the tables that stand there under a name that is nearly theirs:
// what they hold is then not unknown as well.
func (u Unread) misspelt(written decode.Written, whats ...string) {
	for _, what := range whats {
		if _, read := u[what]; !read {
			u[what] = written.Has(what + "s")
		}
	}
}

// table reads a table of things that other keys name.
func (u Unread) table(what string, each func(name Text) decode.Form) decode.Form {
	return decode.Before(decode.Table{What: what + "s", Each: each}, func(_ *decode.Reader, n decode.Node) {
		u[what] = !decode.IsMap(n) || n.Repeated() // of two things with one name, one had another
	})
}

const (
	unknown   = "not known"
	unlimited = "not limited"
	unturned  = "not turned"
)

func (m *Machine) form() decode.Form {
	return decode.Object{What: "machine", Keys: []decode.Key{
		decode.May("rated_load", "What the flange may carry, tool and part together, in kg.", decode.Quantity(&m.RatedLoad, unit.Mass, decode.Positive)).Else(unknown).Was("payload"),
		decode.May("moment", "What tool and part may turn the flange with, about its centre, in N·m. "+
			"It is g · |tool mass · centre of gravity + part mass · TCP|, the lever lying level and nothing accelerating; of a tool with zones, with whatever parts hang in it while the arm moves. "+
			"Not every maker states it: where it is not known, `check` says only that it was not looked at.",
			decode.Quantity(&m.Moment, unit.Moment, decode.Positive)).Else(unknown),
		decode.May("speed", "The fastest TCP speed that may be written, in mm/s.", decode.Quantity(&m.Speed, unit.Speed, decode.Positive)).Else(unknown),
		decode.May("acceleration", "The acceleration of the TCP, in mm/s².", decode.Quantity(&m.Acceleration, unit.Acceleration, decode.Positive)).Else(unknown),
		decode.May("jerk", "How quickly the acceleration may change, in mm/s³; the time estimate asks for it, and families that write one.",
			decode.Quantity(&m.Jerk, unit.Jerk, decode.Positive)).Else(unlimited),
		decode.May("rotation", "How fast the tool may be turned, and how far.", m.Rotation.form()),
		decode.May("reach", "Where the TCP can be, about the base's Z axis.", decode.Object{What: "reach", Keys: []decode.Key{
			decode.May("radius", "From and to, in mm from the base's Z axis; the smaller figure first.", rangeOf(&m.Radius, decode.NotNegative)).Else(unknown),
			decode.May("height", "From and to, in mm above the base; the smaller figure first.", rangeOf(&m.Height, decode.Any)).Else(unknown),
		}}),
	}}
}

func (t *Rotation) form() decode.Form {
	return decode.Object{What: "rotation", Keys: []decode.Key{
		decode.May("range", "From and to, in degrees: how far the axis goes that turns a tool about the vertical, where the family writes that turn alone. "+
			"It is 0 where the tool's X axis lies along the base's.", rangeIn(&t.Range, unit.Angle, decode.Any)).Else("`[-180, 180]`"),
		decode.May("speed", "In deg/s; only the time estimate asks for it.", decode.Quantity(&t.Speed, unit.AngularSpeed, decode.Positive)).Else(unlimited),
		decode.May("acceleration", "In deg/s²; only the time estimate asks for it.", decode.Quantity(&t.Acceleration, unit.AngularAcceleration, decode.Positive)).Else(unlimited),
	}}
}

// rangeOf reads [from, to] with from below to, in mm.
func rangeOf(dst *Pair, bound decode.Bound) decode.Form { return rangeIn(dst, unit.Length, bound) }

// rangeIn is rangeOf in any dimension.
func rangeIn(dst *Pair, d unit.Dimension, bound decode.Bound) decode.Form {
	return decode.Then(decode.PairIn(dst, "from", "to", d, bound), func(r *decode.Reader, _ decode.Node) {
		if dst.IsSet() && dst.V[0] >= dst.V[1] {
			r.List.Errorf("out-of-range", dst.Place, "the range goes from %g to %g, wanted the smaller figure first", dst.V[0], dst.V[1]).
				WithHint("write [%g, %g], or two figures that differ", dst.V[1], dst.V[0])
			*dst = Pair{}
		}
	})
}

func (t *Tool) form(over *decode.Overlay) decode.Form {
	return decode.At(&t.Place, decode.Object{What: "a tool", Over: over, Rules: toolRules, Check: func(r *decode.Reader, written decode.Written) {
		t.oneBody(r, written)
		t.wanting(r, written)
		t.oneGripper(r, written)
	}, Keys: []decode.Key{
		decode.Must("tcp", "Where the tool centre point is on the flange: a pose, or poses about one point.", t.tcp()),
		decode.Must("mass", "Of the tool alone, in kg.", decode.Quantity(&t.Mass, unit.Mass, decode.Positive)),
		decode.May("centre_of_gravity", "Of the tool: x, y, z in mm on the flange.", decode.Vector(&t.CentreOfGravity)).Else(unknown),
		decode.May("inertia", "Of the tool: its moments of inertia about axes through its centre of gravity, in the directions of the flange's X, Y and Z, in kg·m². "+
			"It needs `centre_of_gravity`; products of inertia are left out.", decode.Inertia(&t.Inertia)).Else(unknown),
		decode.May("radius", "Of the cylinder about the line from the flange to the TCP that holds the tool, in mm. It ends at the TCP. "+
			"`check` keeps it out of the keep-out boxes, and out of standing parts while it travels.",
			decode.Quantity(&t.Radius, unit.Length, decode.Positive)).Else("only the TCP is looked at"),
		t.bodyKey(),
		decode.May("grip", "What closes on a part: an output and the level that it gets, or several in `set`; needed without `zones`.", t.Grip.form("grip", t.Grip.holdsKey())),
		decode.May("release", "What lets a part go, with the keys of `grip` but `holds`; needed without `zones`.", t.Release.form("release")),
		t.zonesKey(),
		t.Fetch.key("fetch", "Steps by which the arm takes the tool from its stand: at the clear pose, before an entry of the transfers that works with it, where another tool was at work. "+
			"Poses that they go to are those of this tool's TCP."),
		t.Leave.key("leave", "Steps by which the arm puts the tool into its stand, before another one is fetched; likewise."),
		numberKey(&t.Number),
	}})
}

// wanting asks for the point that moments of inertia are about.
func (t *Tool) wanting(r *decode.Reader, written decode.Written) {
	if written.Has("inertia") && !written.Has("centre_of_gravity") {
		r.List.Errorf("missing-key", written["inertia"], "the tool %q has an inertia, but no centre of gravity that it is about", t.Name.V).
			WithHint("add \"centre_of_gravity: [x, y, z]\", in mm on the flange")
		t.Inertia = Vector{}
	}
}

// numberKey is the number of a frame or a tool.
func numberKey(dst *Whole) decode.Key {
	return decode.May("number", "The number that the controller knows it by; no two may have the same.", decode.Whole(dst, 1, HighestSignal)).
		Else("its place in the cell")
}

// HighestSignal is the highest input or output number that may be written.
const HighestSignal = 9999

// signalKey is the number of an input or an output.
func signalKey(what string, dst *Whole) decode.Key {
	return decode.Must(what, "Number of the "+what+".", decode.Whole(dst, 0, HighestSignal))
}

func levelKey(dst *Level) decode.Key {
	return decode.Must("level", "Whether the signal is high (`on`) or low (`off`).", decode.Level(dst))
}

// keys are the keys of a pose; more keys may stand beside them.
func (p *Pose) keys(at func(name, doc string, form decode.Form) decode.Key, turned string) []decode.Key {
	return []decode.Key{
		at("at", "The position: x, y, z in mm.", decode.Vector(&p.At)),
		decode.May("rpy", "How it is turned: roll, pitch, yaw in degrees, about the fixed X, then Y, then Z axes.", decode.Angles(&p.RPY)).Else(turned),
		decode.May("quaternion", "How it is turned: w, x, y, z, w first. It stands instead of `rpy`.", decode.Quaternion(&p.Quaternion)),
	}
}

// orientations are two ways of saying one thing.
var orientations = []string{"rpy", "quaternion"}

// oneOrientation refuses a pose that is turned twice.
func (p *Pose) oneOrientation(r *decode.Reader, _ decode.Written) {
	if p.RPY.IsSet() && p.Quaternion.IsSet() {
		r.List.Errorf("two-orientations", p.Quaternion.Place, "\"rpy\" and \"quaternion\" both say how it is turned").
			WithNote(p.RPY.Place, "\"rpy\" stands here").WithHint("keep one of the two")
		p.Quaternion = Quaternion{}
	}
}

func frameName(dst *Text) decode.Form { return decode.In("frames", decode.Name(dst), BaseFrame) }

// placements are the keys that say where a frame is.
var placements = []string{"at", "rpy", "quaternion", "three_points", "best_fit"}

func (f *Frame) form(over *decode.Overlay) decode.Form {
	keys := append(f.Pose.keys(decode.May, unturned),
		decode.May("three_points", "Three points that were touched with the tool's tip, in the parent's coordinates.", threePoints(&f.ThreePoints)),
		decode.May("best_fit", "Points whose places in the frame are known, and where they were touched.", bestFit(&f.BestFit)),
		decode.May("parent", "The frame that it is placed in.", frameName(&f.Parent)).Default(BaseFrame),
		numberKey(&f.Number))
	frame := decode.Object{What: "a frame", Keys: keys, Over: over, Check: f.check, Rules: frameRules}
	return decode.At(&f.Place, decode.At(&f.Pose.Place, frame))
}

func (f *Frame) check(r *decode.Reader, written decode.Written) {
	if f.Name.V == BaseFrame {
		r.List.Errorf("bad-name", f.Name.Place, "%q is the arm's own frame and cannot be placed", BaseFrame).
			WithHint("give this frame another name")
	}
	f.Pose.oneOrientation(r, written)
	f.onePlacement(r, written)
}

// onePlacement holds a frame to exactly one way of saying where it is.
func (f *Frame) onePlacement(r *decode.Reader, written decode.Written) {
	var ways, keys []string
	for _, way := range []struct{ key, words string }{{"at", "a pose"}, {"three_points", "three points"}, {"best_fit", "a best fit"}} {
		posed := way.key == "at" && (written.Has("rpy") || written.Has("quaternion"))
		if written.Has(way.key) || posed {
			ways, keys = append(ways, way.words), append(keys, way.key)
		}
	}
	switch {
	case written == nil:
	case len(ways) > 1:
		r.List.Errorf("two-placements", f.Name.Place, "the frame %q is given both by %s and by %s", f.Name.V, ways[0], strings.Join(ways[1:], " and by ")).
			WithNote(written[keys[1]], "%q stands here", keys[1]).WithHint("keep one of them")
		f.ThreePoints, f.BestFit = nil, nil
	case !written.Has("at") && !written.Has("three_points") && !written.Has("best_fit"):
		r.List.Errorf("missing-key", f.Name.Place, "the frame %q needs \"at\" or \"three_points\" or \"best_fit\"", f.Name.V)
	}
}

// threePoints reads a frame as it was touched.
func threePoints(dst **ThreePoints) decode.Form {
	t := new(ThreePoints)
	return keptAs(dst, t, decode.At(&t.Place, decode.Shared("three_points", decode.Object{What: "three_points", Keys: []decode.Key{
		decode.Must("origin", "The frame's origin.", decode.Vector(&t.Origin)),
		decode.Must("along_x", "A point on the frame's X axis.", decode.Vector(&t.AlongX)),
		decode.Must("toward_y", "A point on the side of +Y in the frame's XY plane.", decode.Vector(&t.TowardY)),
	}})))
}

// keptAs sets dst to the value that a form reads into, where there is one to read.
func keptAs[T any](dst **T, value *T, form decode.Form) decode.Form {
	return decode.Before(form, func(*decode.Reader, decode.Node) { *dst = value })
}

func (p *NamedPose) form() decode.Form {
	at := func(name, doc string, form decode.Form) decode.Key {
		return decode.May(name, doc, form).Else("`joints` say it")
	}
	keys := append(p.Pose.keys(at, "pointing down, `[180, 0, 0]`"),
		decode.May("frame", "The frame that the pose is in.", frameName(&p.Frame)).Default(BaseFrame), p.Joints.key(decode.May).Else("`at` says it"))
	return decode.At(&p.Pose.Place, decode.Object{What: "a pose", Keys: keys, Check: p.check, Rules: namedPoseRules})
}

func (p *NamedPose) check(r *decode.Reader, written decode.Written) {
	if p.Name.V == NoPose {
		r.List.Errorf("bad-name", p.Name.Place, "%q says that there is no pose, and cannot be one", NoPose).
			WithHint("give this pose another name")
	}
	p.Pose.oneOrientation(r, written)
	p.onePlacement(r, written)
}

// onePlacement holds a pose to one way of saying where it is.
func (p *NamedPose) onePlacement(r *decode.Reader, written decode.Written) {
	if !written.Has("joints") {
		if written != nil && !written.Has("at") {
			r.List.Errorf("missing-key", p.Pose.Place, "a pose needs \"at\"").WithHint("or \"joints\": the readings of all joints of the arm")
		}
		return
	}
	for _, key := range []string{"at", "rpy", "quaternion", "frame"} {
		if written.Has(key) {
			r.List.Errorf("two-placements", written[key], "the pose %q is given by \"joints\", which leaves no room for %q", p.Name.V, key).
				WithNote(written["joints"], "\"joints\" stands here").WithHint("keep one of the two")
			p.Joints = Joints{}
			return
		}
	}
}

func (b *Box) form() decode.Form {
	return decode.Object{What: "a keep-out box", Keys: []decode.Key{
		decode.May("frame", "The frame that the corners are in.", frameName(&b.Frame)).Default(BaseFrame),
		decode.Must("from", "One corner of the box.", decode.Vector(&b.From)),
		decode.Must("to", "The opposite corner.", decode.Vector(&b.To)),
	}}
}
