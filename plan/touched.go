package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
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

// What holds where nothing else is written. Common practice, no source.
const (
	DefaultTolerance  = 0.5 // mm, of a point off the answer
	DefaultTouchError = 0.1 // mm, of a careful touch by hand
)

// Pivot is a tool centre as poses of the flange, in the base, that all hold the
// tip on one point.
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

// bestFit reads a frame as points.
func bestFit(dst **BestFit) decode.Form {
	b := new(BestFit)
	points := manyOf(&b.Points, "points", func() decode.Form { return added(&b.Points, FitPoint{}).form() })
	object := decode.Object{What: "best_fit", Check: func(r *decode.Reader, _ decode.Written) { differentNames(r, b.Points) }, Keys: []decode.Key{
		decode.Must("points", "Three points or more.", points),
		toleranceKey(&b.Tolerance),
	}}
	return keptAs(dst, b, decode.At(&b.Place, decode.Shared("best_fit", object)))
}

func (p *FitPoint) form() decode.Form {
	return decode.At(&p.Place, decode.Object{What: "a point", Keys: []decode.Key{
		decode.May("name", "What findings call the point; no two alike.", decode.Text(&p.Name)).Else("it is counted from 1"),
		decode.Must("nominal", "Where it is in the frame, from a drawing for instance.", decode.Vector(&p.Nominal)),
		decode.Must("measured", "Where it was touched, in the coordinates of the frame's parent.", decode.Vector(&p.Measured)),
	}})
}

// manyOf reads a list into dst, which is not nil then, even if nothing is in the list.
func manyOf[T any](dst *[]T, what string, each func() decode.Form) decode.Form {
	return decode.Before(decode.List{What: what, Each: each}, func(_ *decode.Reader, n decode.Node) {
		if decode.IsList(n) {
			*dst = make([]T, 0, len(n.Items()))
		}
	})
}

// differentNames refuses a name that two points have: a finding that names one of
// them must not leave open which.
func differentNames(r *decode.Reader, points []*FitPoint) {
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

// toleranceKey is how far a point may be off the answer.
func toleranceKey(dst *Real) decode.Key {
	return decode.May("tolerance", "How far a point may be off the answer, in mm.", decode.Quantity(dst, unit.Length, decode.Positive)).Default(DefaultTolerance)
}

// tcp reads a tool centre point: a pose, or poses about a point and perhaps an
// orientation beside them.
func (t *Tool) tcp() decode.Form {
	var pivot Pivot
	keys := append(t.TCP.keys(decode.May, unturned), decode.May("pivot", pivotDoc, pivot.form()), toleranceKey(&pivot.Tolerance))
	return decode.At(&t.TCP.Place, decode.Object{What: "tcp", Keys: keys, Rules: tcpRules, Check: func(r *decode.Reader, written decode.Written) {
		t.TCP.oneOrientation(r, written)
		t.onePlacement(r, written, &pivot)
	}})
}

// onePlacement holds a tool to one way of saying where its centre point is.
func (t *Tool) onePlacement(r *decode.Reader, written decode.Written, pivot *Pivot) {
	switch {
	case written == nil:
	case written.Has("at") && written.Has("pivot"):
		r.List.Errorf("two-placements", written["pivot"], "the tool %q is given both by \"at\" and by \"pivot\"", t.Name.V).
			WithNote(written["at"], "\"at\" stands here").WithHint("keep one of the two")
		t.TCP.At = Vector{}
	case written.Has("pivot"):
		t.Pivot = pivot
	case !written.Has("at"):
		r.List.Errorf("missing-key", t.TCP.Place, "tcp needs \"at\"").
			WithHint("or \"pivot\": poses of the flange that hold the tip on one spot")
	default:
		idle(r, written, "pivot", "tolerance")
	}
}

const pivotDoc = "Poses of the flange, in the base, while the tip stays on one fixed point; three or more."

// form is the poses of a pivot, each of which has to be turned.
func (p *Pivot) form() decode.Form {
	return decode.At(&p.Place, manyOf(&p.Poses, "poses", func() decode.Form {
		pose := added(&p.Poses, Pose{})
		object := decode.Object{What: "a pose", Keys: pose.keys(decode.Must, ""), Check: func(r *decode.Reader, written decode.Written) { pose.isTurned(r, written, "pivot") }, Rules: []schema.Rule{turned}}
		return decode.At(&pose.Place, decode.Shared("turned_pose", object))
	}))
}

// isTurned asks for one orientation.
func (p *Pose) isTurned(r *decode.Reader, written decode.Written, of string) {
	p.oneOrientation(r, written)
	if written != nil && !written.Has("rpy") && !written.Has("quaternion") {
		r.List.Errorf("missing-key", p.Place, "a pose of %q needs \"rpy\" or \"quaternion\"", of).
			WithHint("the way the flange is turned says as much as where it is")
	}
}

// keys are the keys of a grid that is given by corners.
func (c *Corners) keys() []decode.Key {
	slots := decode.Table{What: "touched corners", Each: func(slot Text) decode.Form {
		return decode.Vector(&added(&c.Slots, TouchedSlot{Slot: slot}).At)
	}}
	return []decode.Key{
		decode.May("corners", "Three or four slots that were touched, each with its position.", decode.Before(slots, func(_ *decode.Reader, n decode.Node) {
			if c.Place = n.Place(); decode.IsMap(n) {
				c.Slots = make([]*TouchedSlot, 0, 4)
			}
		})),
		decode.May("corners_in", "Whose coordinates the corners were read in: the grid's `frame` or the `base`.",
			decode.OneOf(&c.In, CornersInFrame, CornersInBase)).Default(CornersInFrame),
		decode.May("nominal_pitch", "What the drawing says: column to column, row to row, in mm.",
			decode.Pair(&c.NominalPitch, "column to column", "row to row", decode.Positive)).Else(unknown),
		toleranceKey(&c.Tolerance),
	}
}

// idle reports keys that say nothing without another one, which is not there.
func idle(r *decode.Reader, written decode.Written, without string, keys ...string) {
	for _, key := range keys {
		if written.Has(key) {
			r.List.Errorf("idle-key", written[key], "%q says nothing without %q", key, without)
		}
	}
}
