package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
	"gridferry/plan/urdf"
)

// Arm is the joints of the arm, as one of URDF, Joints with Flange, and DH says them.
type Arm struct {
	Place diag.Place
	// Base is where the arm's own coordinates stand in the base of the cell; without At where
	// they are the same.
	Base      Pose
	URDF      Text // a file
	From, To  Text // links of it
	Chain     *urdf.Chain
	Joints    []*ArmJoint // of URDF and DH, too
	DH        Text        // the convention of the rows that Joints are; not set without
	Flange    Pose        // without At where it is not written
	Links     []*LinkRoom
	Prefer    Prefer
	Winding   Real // degrees; not set for as much as the ranges allow
	Known     []*Known
	Tolerance Real // mm
	Turned    Real // degrees
	// Unread says that what the joints are is not known, because of a mistake that was reported.
	Unread bool
}

// MostJoints is how many joints an arm may have: six and a rail.
const MostJoints = 7

// Prefer is the configuration that is tried first.
type Prefer struct{ Shoulder, Elbow, Wrist Text }

// Known is readings of all joints, and where the flange was then.
type Known struct {
	Place diag.Place
	Joints
	Pose Pose
}

// The tolerances of known readings where none is written. Common practice, no source: what a
// controller shows of an arm is rounded, and calibrated by less.
const (
	DefaultKnownTolerance = 0.5 // mm
	DefaultKnownTurned    = 0.1 // degrees
)

// mostKnown bounds the readings of one arm.
const mostKnown = 1000

func (a *Arm) form() decode.Form {
	var dh dh
	ways := a.joints()
	keys := []decode.Key{
		decode.May("urdf", "A file beside the cell or below that says what the arm is, in URDF: links, joints, and the room that links fill.", decode.Text(&a.URDF)),
		decode.May("from", "The link of the file that stands still.", decode.Text(&a.From)).Else("the one that no joint leads to"),
		decode.May("to", "The link of the file that the flange is.", decode.Text(&a.To)).Else("the only one that no joint leads away from"),
		decode.May("joints", "Every axis from the base to the flange, with all joints at reading 0.", ways),
		decode.May("dh", "A Denavit-Hartenberg table, a row for each joint.", dh.form(a)),
		decode.May("flange", "Where the flange is while all joints read 0; needed with `joints`. With `dh` and `urdf` it is in the coordinates of the last row, or of the last link.", a.Flange.optional("turned as what it is written in")).Else("that of the last row, or the last link"),
		decode.May("at", "Where the arm's own coordinates stand in the base: those of `joints`, of `flange` and `links`, of the first row, or of the first link.", decode.Vector(&a.Base.At)).Default([]int{0, 0, 0}),
		decode.May("rpy", "How they are turned there: roll, pitch, yaw in degrees, about the fixed X, then Y, then Z axes.", decode.Angles(&a.Base.RPY)).Else(unturned),
		decode.May("quaternion", "The same: w, x, y, z, w first. It stands instead of `rpy`.", decode.Quaternion(&a.Base.Quaternion)),
		decode.May("links", "The room that the link behind a joint fills, by the joint's name: capsules, spheres and boxes, where they are while all joints read 0.", linkRooms(&a.Links)).Else("nothing is known of it but what `urdf` says"),
		decode.May("prefer", "The configuration that is tried first.", decode.Object{What: "prefer", Keys: []decode.Key{
			decode.May("shoulder", "Which way the arm reaches.", decode.OneOf(&a.Prefer.Shoulder, "front", "back")),
			decode.May("elbow", "Which way it is bent.", decode.OneOf(&a.Prefer.Elbow, "up", "down")),
			decode.May("wrist", "Which way the wrist is bent.", decode.OneOf(&a.Prefer.Wrist, "up", "down")),
		}}),
		decode.May("winding", "How far the last joint that turns may be turned from where a job begins, either way, in degrees: as far as hoses and cables at the tool bear it.", decode.Quantity(&a.Winding, unit.Angle, decode.Positive)).Else("as far as its range goes"),
		decode.May("known", "What the controller showed while the arm stood somewhere: the readings of all joints, and the pose of the flange in the base.", knownReadings(&a.Known)).Else("nothing holds the joints to the arm itself"),
		decode.May("tolerance", "How far a known pose may be off what its readings give, in mm.", decode.Quantity(&a.Tolerance, unit.Length, decode.Positive)).Default(DefaultKnownTolerance),
		decode.May("tolerance_turned", "How far it may be turned off, in degrees.", decode.Quantity(&a.Turned, unit.Angle, decode.Positive)).Default(DefaultKnownTurned),
	}
	rules := []schema.Rule{
		schema.OneOf(armWays...), oneOrientation,
		schema.Wanting([2]string{"from", "urdf"}, [2]string{"to", "urdf"}, [2]string{"tolerance", "known"}, [2]string{"tolerance_turned", "known"}, [2]string{"joints", "flange"}),
	}
	return decode.At(&a.Place, decode.Object{What: "an arm", Keys: keys, Rules: rules, Check: func(r *decode.Reader, written decode.Written) {
		a.Base.oneOrientation(r, written)
		a.oneWay(r, written)
		if !written.Has("urdf") {
			idle(r, written, "urdf", "from", "to")
		}
		if !written.Has("known") {
			idle(r, written, "known", "tolerance", "tolerance_turned")
		}
	}})
}

// armWays are the keys that say what the joints are.
var armWays = []string{"urdf", "joints", "dh"}

// oneWay holds an arm to one way of saying what its joints are.
func (a *Arm) oneWay(r *decode.Reader, written decode.Written) {
	first := ""
	for _, way := range armWays {
		switch {
		case !written.Has(way):
		case first == "":
			first = way
		default:
			a.Unread = true
			r.List.Errorf("two-layouts", written[way], "the joints of the arm are given by %q, which leaves no room for %q", first, way).
				WithNote(written[first], "%q stands here", first).WithHint("keep one of the two")
			return
		}
	}
	switch {
	case written == nil:
		a.Unread = true
	case first == "":
		a.Unread = true
		r.List.Errorf("missing-key", a.Place, "an arm needs \"joints\" with \"flange\", or \"dh\", or \"urdf\"").WithHint("one of them says what its joints are")
	case first == "joints" && !written.Has("flange"):
		a.Unread = true
		r.List.Errorf("missing-key", a.Place, "an arm with \"joints\" needs \"flange\"").WithHint("write where the flange is while all joints read 0, such as \"flange: {at: [310, 0, 640], rpy: [0, 90, 0]}\"")
	case written.Has("flange") && !a.Flange.At.IsSet():
		a.Unread = true
	}
}

// optional is the form of a pose that may be left out altogether.
func (p *Pose) optional(unturned string) decode.Form {
	return decode.At(&p.Place, decode.Object{What: "a pose", Keys: p.keys(decode.Must, unturned), Check: p.oneOrientation, Rules: []schema.Rule{oneOrientation}})
}

// knownReadings reads what a controller showed.
func knownReadings(dst *[]*Known) decode.Form {
	each := func() decode.Form {
		k := added(dst, Known{})
		keys := append([]decode.Key{k.Joints.key(decode.Must)}, k.Pose.keys(decode.Must, "")...)
		check := func(r *decode.Reader, written decode.Written) {
			k.Pose.Place = k.Place
			k.Pose.isTurned(r, written, "known")
		}
		return decode.At(&k.Place, decode.Object{What: "a known reading", Keys: keys, Check: check, Rules: []schema.Rule{turned}})
	}
	list := decode.Under(decode.List{What: "known readings", Each: each}, schema.With("maxItems", mostKnown))
	return decode.Then(list, func(r *decode.Reader, n decode.Node) {
		if len(*dst) > mostKnown {
			r.List.Errorf("wrong-length", n.Place(), "there are %d known readings, at most %d fit", len(*dst), mostKnown).WithHint("three or four, far apart, say as much")
			*dst = nil
		}
	})
}
