package sheet

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/measure"
	"gridferry/plan"
)

// pointSet is points that can be typed in on the page: the script compares them with where they are
// wanted, and writes them as a file of touched points. Lengths are mm.
type pointSet struct {
	Kind      string       `json:"kind"` // frame, tool, grid, or slots to drive to
	Name      string       `json:"name"`
	Form      string       `json:"form,omitempty"` // key of the file that they become; "" for none
	In        []reading    `json:"in"`
	Tolerance fine         `json:"tolerance"`
	Pitch     *[2]fine     `json:"pitch,omitempty"` // nominal_pitch of corners
	Points    []typedPoint `json:"points"`
}

// reading is whose coordinates points are read in: the base's or a frame's, and the pose of these in
// the parent of the frame that is fitted.
type reading struct {
	Name string     `json:"name"`
	R    [3][3]fine `json:"r"`
	T    [3]fine    `json:"t"`
}

// typedPoint is a point by its name, where it has to be in each of the coordinates that it may be
// read in, and its place in the frame that it is fitted to.
type typedPoint struct {
	Name    string    `json:"name"`
	Want    [][3]fine `json:"want"`
	Nominal *[3]fine  `json:"nominal,omitempty"`
}

func triple(v geom.Vec) [3]fine { return [3]fine{fine(v.X), fine(v.Y), fine(v.Z)} }

func rotation(r geom.Rot) (t [3][3]fine) {
	for i := range r {
		t[i] = triple(geom.Vec{X: r[i][0], Y: r[i][1], Z: r[i][2]})
	}
	return t
}

func nominal(v geom.Vec) *[3]fine {
	t := triple(v)
	return &t
}

// asIs are coordinates that points of a file are written in.
func asIs(name string) []reading { return []reading{{Name: name, R: rotation(geom.Identity.R)}} }

func typedFrame(f *measure.Frame, in string) *pointSet {
	s := &pointSet{Kind: plan.PointsOfFrame, Name: f.Name, In: asIs(in), Tolerance: fine(f.Tolerance)}
	for _, p := range f.Points {
		point := typedPoint{Name: plain(p.Label), Want: [][3]fine{triple(p.At)}}
		if f.Best != nil {
			point.Want[0], point.Nominal = triple(f.Best.Pose.Apply(p.Nominal)), nominal(p.Nominal)
		}
		s.Points = append(s.Points, point)
	}
	if s.Form = "best_fit"; f.Three != nil {
		s.Form, s.Tolerance = "three_points", plan.DefaultTolerance
	}
	return s
}

func typedTool(f *measure.Tool, name string, rows []pointRow) *pointSet {
	s := &pointSet{Kind: plan.PointsOfTool, Name: name, In: asIs(plan.BaseFrame), Tolerance: fine(f.Tolerance)}
	for _, row := range rows {
		s.Points = append(s.Points, typedPoint{Name: row.Name, Want: [][3]fine{triple(f.Post)}})
	}
	return s
}

func typedCorners(f *measure.Grid, in string) *pointSet {
	s := &pointSet{Kind: plan.PointsOfGrid, Name: f.Name, Form: "corners", In: asIs(in), Tolerance: fine(f.Tolerance)}
	if f.Nominal != [2]float64{} {
		s.Pitch = &[2]fine{fine(f.Nominal[0]), fine(f.Nominal[1])}
	}
	for i, c := range f.Corners {
		s.Points = append(s.Points, typedPoint{Name: f.Labels[i], Want: [][3]fine{triple(c.At)}})
	}
	return s
}

// typedSlots are slots to drive to: those that agree with each other give the frame of their grid anew.
func typedSlots(g *layout.Grid) *pointSet {
	s := &pointSet{Kind: "slots", Name: g.Name, Form: "best_fit", In: readings(g.Frame), Tolerance: plan.DefaultTolerance}
	for _, at := range corners(g) {
		in, base := g.Points(at)
		want := [][3]fine{triple(in.Vec), triple(base.Vec)}
		s.Points = append(s.Points, typedPoint{Name: g.Name + " " + g.Label(at), Want: want[:len(s.In)], Nominal: nominal(in.Vec)})
	}
	return s
}

// readings are the frame's own coordinates and the base's.
func readings(f *layout.Frame) []reading {
	if f.Parent == nil {
		return asIs(f.Name)
	}
	up := f.Parent.Base.Inverse()
	return []reading{{f.Name, rotation(f.In.R), triple(f.In.T)}, {plan.BaseFrame, rotation(up.R), triple(up.T)}}
}
