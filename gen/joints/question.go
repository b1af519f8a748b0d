package joints

import (
	"encoding/json"
	"io"
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/margin"
)

// Question is what is asked of an arm: at most one of Readings, At and Grid is set, and none asks
// what the arm is.
type Question struct {
	Layout   *layout.Layout // with an arm
	Tool     *layout.Tool   // that a pose is of; nil for the flange
	Readings *arm.Readings
	At       *geom.Pose // in the base
	Grid     *layout.Grid
}

// tcp is the tool's on the flange, or the flange itself.
func (q *Question) tcp() geom.Pose {
	if q.Tool == nil {
		return geom.Identity
	}
	return q.Tool.TCP
}

// stands is every way in which the arm gets to the pose that is asked for.
func (q *Question) stands() (stands []Stand, off float64) {
	return standsWith(q.Layout.Arm.Arm, *q.At, q.tcp())
}

// Reach is how the arm reaches the grid that is asked for.
func (q *Question) Reach() *Reach { return reach(q.Layout, q.Grid, q.figures()) }

// figures are those by which the plan works at the grid, with the tool that is asked for.
func (q *Question) figures() *layout.Figures {
	f := *q.Layout.Figures(nil, q.Grid)
	if q.Tool != nil {
		f.Tool = q.Tool
	}
	return &f
}

// WriteText answers in words.
func (q *Question) WriteText(w io.Writer) error {
	switch {
	case q.Readings != nil:
		return writePose(w, q.Layout, q.Readings, q.Tool)
	case q.At != nil:
		stands, off := q.stands()
		return writeStands(w, q.Layout, stands, off)
	case q.Grid != nil:
		return writeReach(w, q.Layout, q.Grid, q.Reach())
	}
	return describe(w, q.Layout)
}

// WriteJSON answers as data: degrees and mm, as the text.
func (q *Question) WriteJSON(w io.Writer) error {
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	out.SetEscapeHTML(false)
	switch {
	case q.Readings != nil:
		return out.Encode(q.poseJSON())
	case q.At != nil:
		return out.Encode(q.standsJSON())
	case q.Grid != nil:
		return out.Encode(q.reachJSON())
	}
	return out.Encode(q.armJSON())
}

// poseJSON is a pose as other commands write one.
type poseJSON struct {
	At  [3]float64 `json:"at"`
	RPY [3]float64 `json:"rpy"`
}

func asJSON(p geom.Pose) poseJSON {
	a := p.R.RPY()
	return poseJSON{[3]float64{rounded(p.T.X), rounded(p.T.Y), rounded(p.T.Z)}, [3]float64{rounded(a.Roll), rounded(a.Pitch), rounded(a.Yaw)}}
}

// rounded is a figure to nine decimals, so that it is the same on every machine.
func rounded(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }

func (q *Question) poseJSON() any {
	type answer struct {
		Flange        poseJSON  `json:"flange"`
		Tool          *poseJSON `json:"tool,omitempty"`
		Configuration string    `json:"configuration,omitempty"`
		Margins       []float64 `json:"margins"`
	}
	flange := q.Layout.Arm.Pose(*q.Readings)
	words, _ := q.Layout.Arm.Configuration(*q.Readings)
	a := answer{Flange: asJSON(flange), Configuration: words.String()}
	if q.Tool != nil {
		tool := asJSON(flange.Mul(q.Tool.TCP))
		a.Tool = &tool
	}
	for i := range q.Layout.Arm.Joints {
		a.Margins = append(a.Margins, rounded(q.Layout.Arm.Joints[i].Margin(q.Readings[i])))
	}
	return a
}

// listed is readings of the joints that an arm has.
func listed(a *arm.Arm, r *arm.Readings) []float64 {
	values := []float64{}
	for i := range a.Joints {
		values = append(values, rounded(r[i]))
	}
	return values
}

func (q *Question) standsJSON() any {
	type stand struct {
		Joints        []float64 `json:"joints"`
		Configuration string    `json:"configuration,omitempty"`
		Joint         string    `json:"joint"`
		Margin        float64   `json:"margin"`
		Free          []string  `json:"free,omitempty"`
	}
	a, all := q.Layout.Arm.Arm, []stand{}
	stands, _ := q.stands()
	for _, s := range stands {
		all = append(all, stand{listed(a, &s.Readings), s.Configuration.String(), a.Joints[s.Joint].Name, rounded(s.Margin), freeNames(a, s.Free)})
	}
	return all
}

func (q *Question) reachJSON() any {
	type slot struct {
		Slot           string   `json:"slot"`
		Reached        bool     `json:"reached"`
		Margin         float64  `json:"margin,omitempty"`
		Joint          string   `json:"joint,omitempty"`
		Singular       *left    `json:"singular,omitempty"`
		Room           *left    `json:"room,omitempty"`
		Least          string   `json:"least,omitempty"`
		Configurations []string `json:"configurations,omitempty"` // the one with most margin first
	}
	all := []slot{}
	reach := q.Reach()
	for i := range reach.Slots {
		at := &reach.Slots[i]
		s := slot{Slot: at.Label, Reached: at.Reached}
		if at.Reached {
			s.Margin, s.Joint = rounded(at.Margins[margin.Range].By), reach.To(at.Margins[margin.Range])
			s.Singular, s.Room = leftOf(reach.Meter, at.Margins[margin.Singular]), leftOf(reach.Meter, at.Margins[margin.Room])
			s.Least = reach.Words(at.Least)
			s.Configurations = at.inOrder()
		}
		all = append(all, s)
	}
	return all
}

// left is a margin as data: how much is left, and of what to which box.
type left struct {
	Margin float64 `json:"margin"`
	Of     string  `json:"of"`
	Box    string  `json:"box,omitempty"`
}

func leftOf(r *margin.Meter, m margin.Margin) *left {
	if m.Kind == margin.None {
		return nil
	}
	l := &left{Margin: rounded(m.By), Of: r.Subject(m)}
	if m.Kind == margin.Room {
		l.Box = r.To(m)
	}
	return l
}

func (q *Question) armJSON() any {
	type joint struct {
		Name         string     `json:"name"`
		Slides       bool       `json:"slides"`
		Axis         [3]float64 `json:"axis"`
		Point        [3]float64 `json:"point"`
		Range        [2]float64 `json:"range"`
		Speed        float64    `json:"speed,omitempty"`
		Acceleration float64    `json:"acceleration,omitempty"`
	}
	type reading struct {
		Joints []float64 `json:"joints"`
		Line   int       `json:"line"`
		Off    float64   `json:"off"`
		Turned float64   `json:"turned"`
	}
	a := q.Layout.Arm
	answer := struct {
		Class          string    `json:"class"`
		Joints         []joint   `json:"joints"`
		Flange         poseJSON  `json:"flange"`
		Configurations []string  `json:"configurations"`
		Known          []reading `json:"known"`
	}{a.Class(), []joint{}, asJSON(a.Flange), arm.Texts(a.Configurations()), []reading{}}
	for i, j := range a.Joints {
		answer.Joints = append(answer.Joints, joint{j.Name, j.Slides, asJSON(geom.Pose{T: j.Axis, R: geom.IdentityRot()}).At, asJSON(geom.Pose{T: j.Point, R: geom.IdentityRot()}).At, [2]float64{j.Lo, j.Hi}, a.Speeds[i], a.Accelerations[i]})
	}
	for _, k := range a.Known {
		answer.Known = append(answer.Known, reading{listed(a.Arm, &k.Readings), k.Place.Line, rounded(k.Way), rounded(k.Turn)})
	}
	return answer
}
