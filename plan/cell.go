package plan

import (
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
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
	Frames     []*Frame
	Poses      []*NamedPose
	KeepOut    []*Box
	// HasKeepOut tells "there is nothing to keep out of" from "nobody said".
	HasKeepOut bool
	Unread     Unread
}

// Unread tells, for "tool", "frame" and the like, that there is no table to
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

// Rotation is how fast the tool may be turned.
type Rotation struct {
	Speed        Real // deg/s
	Acceleration Real // deg/s²
}

// Tool is what is on the flange.
type Tool struct {
	Name            Text
	TCP             Pose   // without At where Pivot is set
	Pivot           *Pivot // the tool centre point as it was measured
	Mass            Real   // kg
	CentreOfGravity Vector // mm, on the flange
	Radius          Real   // mm, of a cylinder about the line from flange to TCP that holds the tool
	Grip, Release   Signal
}

// Signal is an output that a gripper action writes, and the wait after it.
type Signal struct {
	Place  diag.Place
	Output Whole
	Level  Level
	Settle Real // s
}

// Pose is a place and an orientation as written: one of RPY and Quaternion, or
// neither.
type Pose struct {
	Place      diag.Place
	At         Vector
	RPY        Vector
	Quaternion Quaternion
}

// Frame is a work coordinate system, given by pose or by touched points: by one
// of Pose, ThreePoints and BestFit.
type Frame struct {
	Name        Text
	Place       diag.Place
	Pose        Pose
	Parent      Text
	ThreePoints *ThreePoints
	BestFit     *BestFit
}

// ThreePoints is a frame as it was touched, in the parent's coordinates.
type ThreePoints struct {
	Place                   diag.Place
	Origin, AlongX, TowardY Vector
}

// Pose is a named pose in free space.
type NamedPose struct {
	Name  Text
	Frame Text
	Pose  Pose
}

// Box is a keep-out box: two opposite corners in a frame.
type Box struct {
	Name     Text
	Frame    Text
	From, To Vector
}

// cell reads a cell's keys. In place the format line can be left out, since the
// plan around it has one.
func (r *reader) cell(text cellText) *Cell {
	n := text.root
	if n.IsZero() {
		return nil // said already
	}
	c := &Cell{Place: n.Place(), Unread: Unread{"tool": true}} // until there is one
	measured := r.measurements(text.measured)
	format := decode.FirstLine(CellFormat, r.format(CellFormat))
	if text.inPlace {
		format = decode.May("format", r.format(CellFormat))
	}
	written := r.Object(n, "a cell",
		format,
		decode.May("name", r.Text(&c.Name)),
		decode.May("measured", func(decode.Node) {}), // read already
		decode.May("touch_error", r.Quantity(&c.TouchError, unit.Length, decode.Positive)),
		decode.May("machine", func(n decode.Node) { r.machine(n, &c.Machine) }),
		decode.Must("tools", r.named(c.Unread, "tool", func(name Text, n decode.Node) {
			c.Tools = append(c.Tools, r.tool(name, n, r.overlayOf(measured.tools, name.V)))
		})),
		decode.May("frames", r.named(c.Unread, "frame", func(name Text, n decode.Node) {
			c.Frames = append(c.Frames, r.frame(name, n, r.overlayOf(measured.frames, name.V, placements...)))
		})),
		decode.May("poses", r.named(c.Unread, "pose", func(name Text, n decode.Node) {
			c.Poses = append(c.Poses, r.namedPose(name, n))
		})).Was("waypoints"),
		decode.May("keep_out", func(n decode.Node) {
			c.HasKeepOut = true
			r.Table(n, "keep-out boxes", func(name Text, n decode.Node) { c.KeepOut = append(c.KeepOut, r.box(name, n)) })
		}),
	)
	c.Unread.misspelt(written, "frame", "pose")
	r.unknownMeasurements(c, measured)
	return c
}

// misspelt marks the tables that stand there under a name that is nearly theirs:
// what they hold is then not unknown as well.
func (u Unread) misspelt(written decode.Written, whats ...string) {
	for _, what := range whats {
		if _, read := u[what]; !read {
			u[what] = written.Has(what + "s")
		}
	}
}

// named reads a table of things that other keys name.
func (r *reader) named(unread Unread, what string, each func(name Text, n decode.Node)) func(decode.Node) {
	return func(n decode.Node) {
		unread[what] = !decode.IsMap(n) || n.Repeated() // of two things with one name, one had another
		r.Table(n, what+"s", each)
	}
}

func (r *reader) machine(n decode.Node, m *Machine) {
	r.Object(n, "machine",
		decode.May("rated_load", r.Quantity(&m.RatedLoad, unit.Mass, decode.Positive)).Was("payload"),
		decode.May("moment", r.Quantity(&m.Moment, unit.Moment, decode.Positive)),
		decode.May("speed", r.Quantity(&m.Speed, unit.Speed, decode.Positive)),
		decode.May("acceleration", r.Quantity(&m.Acceleration, unit.Acceleration, decode.Positive)),
		decode.May("jerk", r.Quantity(&m.Jerk, unit.Jerk, decode.Positive)),
		decode.May("rotation", func(n decode.Node) {
			r.Object(n, "rotation",
				decode.May("speed", r.Quantity(&m.Rotation.Speed, unit.AngularSpeed, decode.Positive)),
				decode.May("acceleration", r.Quantity(&m.Rotation.Acceleration, unit.AngularAcceleration, decode.Positive)),
			)
		}),
		decode.May("reach", func(n decode.Node) {
			r.Object(n, "reach",
				decode.May("radius", r.rangeOf(&m.Radius, decode.NotNegative)),
				decode.May("height", r.rangeOf(&m.Height, decode.Any)),
			)
		}),
	)
}

// rangeOf reads [from, to] with from below to.
func (r *reader) rangeOf(dst *Pair, bound decode.Bound) func(decode.Node) {
	return func(n decode.Node) {
		var p Pair
		r.Pair(&p, "from", "to", bound)(n)
		if p.IsSet() && p.V[0] >= p.V[1] {
			r.List.Errorf("out-of-range", p.Place, "the range goes from %g to %g, wanted the smaller figure first", p.V[0], p.V[1])
			return
		}
		*dst = p
	}
}

func (r *reader) tool(name Text, n decode.Node, measured decode.Overlay) *Tool {
	t := &Tool{Name: name}
	r.ObjectUnder(n, measured, "a tool",
		decode.Must("tcp", func(n decode.Node) { r.tcp(n, t) }),
		decode.Must("mass", r.Quantity(&t.Mass, unit.Mass, decode.Positive)),
		decode.May("centre_of_gravity", r.Vector(&t.CentreOfGravity)),
		decode.May("radius", r.Quantity(&t.Radius, unit.Length, decode.Positive)),
		decode.Must("grip", func(n decode.Node) { t.Grip = r.signal(n, "grip") }),
		decode.Must("release", func(n decode.Node) { t.Release = r.signal(n, "release") }),
	)
	return t
}

// HighestSignal is the highest input or output number that may be written.
const HighestSignal = 9999

func (r *reader) signal(n decode.Node, what string) Signal {
	s := Signal{Place: n.Place()}
	r.Object(n, what,
		decode.Must("output", r.Whole(&s.Output, 0, HighestSignal)),
		decode.Must("level", r.Level(&s.Level)),
		decode.May("settle", r.Quantity(&s.Settle, unit.Time, decode.NotNegative)),
	)
	return s
}

// poseKeys are the keys of a pose; more keys may stand beside them.
func (r *reader) poseKeys(p *Pose, at func(string, func(decode.Node)) decode.Key) []decode.Key {
	return []decode.Key{
		at("at", r.Vector(&p.At)),
		decode.May("rpy", r.Angles(&p.RPY)),
		decode.May("quaternion", r.Quaternion(&p.Quaternion)),
	}
}

func (r *reader) pose(n decode.Node, what string) Pose {
	p := Pose{Place: n.Place()}
	r.Object(n, what, r.poseKeys(&p, decode.Must)...)
	r.oneOrientation(&p)
	return p
}

// oneOrientation refuses a pose that is turned twice.
func (r *reader) oneOrientation(p *Pose) {
	if p.RPY.IsSet() && p.Quaternion.IsSet() {
		r.List.Errorf("two-orientations", p.Quaternion.Place, "\"rpy\" and \"quaternion\" both say how it is turned").
			WithNote(p.RPY.Place, "\"rpy\" stands here").WithHint("keep one of the two")
		p.Quaternion = Quaternion{}
	}
}

// placements are the keys that say where a frame is.
var placements = []string{"at", "rpy", "quaternion", "three_points", "best_fit"}

func (r *reader) frame(name Text, n decode.Node, measured decode.Overlay) *Frame {
	f := &Frame{Name: name, Place: n.Place(), Pose: Pose{Place: n.Place()}}
	keys := append(r.poseKeys(&f.Pose, decode.May),
		decode.May("three_points", func(n decode.Node) { f.ThreePoints = r.threePoints(n) }),
		decode.May("best_fit", func(n decode.Node) { f.BestFit = r.bestFit(n) }),
		decode.May("parent", r.Name(&f.Parent)))
	if name.V == BaseFrame {
		r.List.Errorf("bad-name", name.Place, "%q is the arm's own frame and cannot be placed", BaseFrame).
			WithHint("give this frame another name")
	}
	written := r.ObjectUnder(n, measured, "a frame", keys...)
	r.oneOrientation(&f.Pose)
	r.onePlacement(f, written)
	return f
}

// onePlacement holds a frame to exactly one way of saying where it is.
func (r *reader) onePlacement(f *Frame, written decode.Written) {
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

func (r *reader) threePoints(n decode.Node) *ThreePoints {
	t := &ThreePoints{Place: n.Place()}
	r.Object(n, "three_points",
		decode.Must("origin", r.Vector(&t.Origin)),
		decode.Must("along_x", r.Vector(&t.AlongX)),
		decode.Must("toward_y", r.Vector(&t.TowardY)),
	)
	return t
}

func (r *reader) namedPose(name Text, n decode.Node) *NamedPose {
	w := &NamedPose{Name: name, Pose: Pose{Place: n.Place()}}
	r.Object(n, "a pose", append(r.poseKeys(&w.Pose, decode.Must), decode.May("frame", r.Name(&w.Frame)))...)
	r.oneOrientation(&w.Pose)
	return w
}

func (r *reader) box(name Text, n decode.Node) *Box {
	b := &Box{Name: name}
	r.Object(n, "a keep-out box",
		decode.May("frame", r.Name(&b.Frame)),
		decode.Must("from", r.Vector(&b.From)),
		decode.Must("to", r.Vector(&b.To)),
	)
	return b
}
