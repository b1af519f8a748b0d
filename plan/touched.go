package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

// BestFit is a frame as points whose places in it are known, and where they were
// touched in the parent's coordinates.
type BestFit struct {
	Place     diag.Place
	Points    []*FitPoint // nil where they could not be read
	Tolerance Real        // mm
}

// FitPoint is one point of a best fit.
type FitPoint struct {
	Place             diag.Place
	Name              Text // may be left out
	Nominal, Measured Vector
}

// Pivot is a tool centre as poses of the flange, in the base, that all hold the
// tip on one spot.
type Pivot struct {
	Place     diag.Place
	Poses     []*Pose // nil where they could not be read
	Tolerance Real    // mm
}

// Corners is a grid as slots that were touched.
type Corners struct {
	Place        diag.Place
	Slots        []*TouchedSlot // nil where they could not be read
	In           Text           // CornersInFrame (default) or CornersInBase
	NominalPitch Pair           // mm, as Grid.Pitch but without a sign
	Tolerance    Real           // mm
}

// TouchedSlot is a slot's label and where the TCP was at it.
type TouchedSlot struct {
	Slot Text
	At   Vector
}

// The words of "corners_in": whose coordinates the corners were read in.
const (
	CornersInFrame = "frame"
	CornersInBase  = "base"
)

func (r *reader) bestFit(n decode.Node) *BestFit {
	b := &BestFit{Place: n.Place()}
	r.Object(n, "best_fit",
		decode.Must("points", func(n decode.Node) {
			if decode.IsList(n) {
				b.Points = make([]*FitPoint, 0, len(n.Items()))
			}
			r.Each(n, "points", func(n decode.Node) { b.Points = append(b.Points, r.fitPoint(n)) })
		}),
		decode.May("tolerance", r.tolerance(&b.Tolerance)),
	)
	r.differentNames(b.Points)
	return b
}

func (r *reader) fitPoint(n decode.Node) *FitPoint {
	p := &FitPoint{Place: n.Place()}
	r.Object(n, "a point",
		decode.May("name", r.Text(&p.Name)),
		decode.Must("nominal", r.Vector(&p.Nominal)),
		decode.Must("measured", r.Vector(&p.Measured)),
	)
	return p
}

// differentNames refuses a name that two points have: a finding that names one of
// them must not leave open which.
func (r *reader) differentNames(points []*FitPoint) {
	first := map[string]diag.Place{}
	for _, p := range points {
		if !p.Name.IsSet() {
			continue
		}
		if at, taken := first[p.Name.V]; taken {
			r.List.Errorf("repeated-name", p.Name.Place, "two points are named %q", p.Name.V).
				WithNote(at, "the first one stands here").WithHint("give each point a name of its own")
			continue
		}
		first[p.Name.V] = p.Name.Place
	}
}

// tolerance reads how far a point may be off the answer.
func (r *reader) tolerance(dst *Real) func(decode.Node) {
	return r.Quantity(dst, unit.Length, decode.Positive)
}

// tcp reads a tool centre point: a pose, or poses about a spot and perhaps an
// orientation beside them.
func (r *reader) tcp(n decode.Node, t *Tool) {
	t.TCP.Place = n.Place()
	var pivot *Pivot
	var tolerance Real
	written := r.Object(n, "tcp", append(r.poseKeys(&t.TCP, decode.May),
		decode.May("pivot", func(n decode.Node) { pivot = r.pivot(n) }),
		decode.May("tolerance", r.tolerance(&tolerance)))...)
	r.oneOrientation(&t.TCP)
	switch {
	case written == nil:
	case written.Has("at") && written.Has("pivot"):
		r.List.Errorf("two-placements", written["pivot"], "the tool %q is given both by \"at\" and by \"pivot\"", t.Name.V).
			WithNote(written["at"], "\"at\" stands here").WithHint("keep one of the two")
		t.TCP.At = Vector{}
	case written.Has("pivot"):
		pivot.Tolerance, t.Pivot = tolerance, pivot
	case !written.Has("at"):
		r.List.Errorf("missing-key", t.TCP.Place, "tcp needs \"at\"").
			WithHint("or \"pivot\": poses of the flange that hold the tip on one spot")
	default:
		r.idle(written, "pivot", "tolerance")
	}
}

func (r *reader) pivot(n decode.Node) *Pivot {
	p := &Pivot{Place: n.Place()}
	if decode.IsList(n) {
		p.Poses = make([]*Pose, 0, len(n.Items()))
	}
	r.Each(n, "poses", func(n decode.Node) {
		pose := r.pose(n, "a pose")
		if decode.IsMap(n) && !pose.turned(n) {
			r.List.Errorf("missing-key", n.Place(), "a pose of \"pivot\" needs \"rpy\" or \"quaternion\"").
				WithHint("the way the flange is turned is what the tool centre point is worked out from")
		}
		p.Poses = append(p.Poses, &pose)
	})
	return p
}

// turned tells whether an orientation is written, readable or not.
func (p *Pose) turned(n decode.Node) bool {
	return !n.Child("rpy").IsZero() || !n.Child("quaternion").IsZero()
}

// cornerKeys are the keys of a grid that is given by corners.
func (r *reader) cornerKeys(c *Corners) []decode.Key {
	return []decode.Key{
		decode.May("corners", func(n decode.Node) { r.corners(n, c) }),
		decode.May("corners_in", r.OneOf(&c.In, CornersInFrame, CornersInBase)),
		decode.May("nominal_pitch", r.Pair(&c.NominalPitch, "column to column", "row to row", decode.Positive)),
		decode.May("tolerance", r.tolerance(&c.Tolerance)),
	}
}

func (r *reader) corners(n decode.Node, c *Corners) {
	c.Place = n.Place()
	if decode.IsMap(n) {
		c.Slots = make([]*TouchedSlot, 0, 4)
	}
	r.Table(n, "touched corners", func(slot Text, n decode.Node) {
		touched := &TouchedSlot{Slot: slot}
		r.Vector(&touched.At)(n)
		c.Slots = append(c.Slots, touched)
	})
}

// idle reports keys that say nothing without another one, which is not there.
func (r *reader) idle(written decode.Written, without string, keys ...string) {
	for _, key := range keys {
		if written.Has(key) {
			r.List.Errorf("idle-key", written[key], "%q says nothing without %q", key, without)
		}
	}
}
