package fitfile

import (
	"strconv"
	"strings"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/plan"
)

// num is a figure as it is printed. Rounding takes away the last bits, which differ
// between processors.
type num string

// MarshalJSON writes the figure as a number.
func (n num) MarshalJSON() ([]byte, error) { return []byte(n), nil }

func round(x float64, decimals int) num {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return num(s)
}

// The decimals of each kind of figure: a tenth of a micrometre, a hundredth of it
// for a mean, a few nanometres per metre for angles and directions.
func mm(x float64) num      { return round(x, 4) }
func mean(x float64) num    { return round(x, 5) }
func degrees(x float64) num { return round(x, 6) }

func place(v geom.Vec) []num { return []num{mm(v.X), mm(v.Y), mm(v.Z)} }
func unit(v geom.Vec) []num  { return []num{round(v.X, 6), round(v.Y, 6), round(v.Z, 6)} }

func angles(r geom.Rot) []num {
	a := r.RPY()
	return []num{degrees(a.Roll), degrees(a.Pitch), degrees(a.Yaw)}
}

func quaternion(r geom.Rot) []num {
	w, x, y, z := r.Quaternion()
	return []num{round(w, 7), round(x, 7), round(y, 7), round(z, 7)}
}

func matrix(r geom.Rot) [][]num {
	var rows [][]num
	for _, row := range r {
		rows = append(rows, unit(geom.Vec{X: row[0], Y: row[1], Z: row[2]}))
	}
	return rows
}

// document is an answer as JSON; the text is made of the same figures.
type document struct {
	Kind   string `json:"kind"`   // frame, tool or grid
	Name   string `json:"name"`   //
	Method string `json:"method"` // three points, best fit, pivot or corners
	Points int    `json:"points"`

	At         []num   `json:"at,omitempty"` // mm
	RPY        []num   `json:"rpy,omitempty"`
	Quaternion []num   `json:"quaternion,omitempty"` // w first
	Matrix     [][]num `json:"matrix,omitempty"`     // rows
	Post       []num   `json:"post,omitempty"`       // mm, the spot that the tip was held on
	Length     num     `json:"length,omitempty"`     // mm, of the tip from the flange

	ColumnStep  []num `json:"column_step,omitempty"` // mm, from column to column in the first row
	RowStep     []num `json:"row_step,omitempty"`
	ColumnPitch []num `json:"column_pitch,omitempty"` // mm, in the first and last row touched
	RowPitch    []num `json:"row_pitch,omitempty"`
	Skew        num   `json:"skew,omitempty"` // degrees off square
	Miss        num   `json:"miss,omitempty"` // mm, of the fourth corner
	Warp        num   `json:"warp,omitempty"` // mm of it out of the plane

	RMS           num        `json:"rms,omitempty"` // mm, of the residuals' lengths
	CoordinateRMS num        `json:"coordinate_rms,omitempty"`
	Largest       num        `json:"largest,omitempty"`
	Worst         string     `json:"worst,omitempty"`
	Residuals     []residual `json:"residuals,omitempty"`

	Conditioning []figure `json:"conditioning"`
}

type residual struct {
	Point  string `json:"point"`
	Off    []num  `json:"off"` // mm, from the answer to where it was touched
	Length num    `json:"length"`
}

// figure is one of those that say what the answer is worth.
type figure struct {
	What  string `json:"what"`
	Value num    `json:"value"`
	Unit  string `json:"unit"`
}

func (a *Answer) document() document {
	switch {
	case a.Frame != nil:
		return a.ofFrame()
	case a.Tool != nil:
		return a.ofTool()
	default:
		return a.ofGrid()
	}
}

func (a *Answer) ofFrame() document {
	f, pose := a.Frame, a.Frame.Pose()
	d := document{
		Kind: "frame", Name: a.Name, Method: "three points", Points: len(f.Points),
		At: place(pose.T), RPY: angles(pose.R), Quaternion: quaternion(pose.R), Matrix: matrix(pose.R),
	}
	if f.Three != nil {
		direction, plane := f.Three.Uncertainty(f.Touch)
		d.Conditioning = []figure{
			{"origin to along_x", mm(f.Three.AlongX), "mm"},
			{"origin to toward_y", mm(f.Three.TowardY), "mm"},
			{"angle between them", degrees(f.Three.Angle), "°"},
			{"uncertainty of the direction of X", round(direction, 4), "°"},
			{"uncertainty of the turn about X", round(plane, 4), "°"},
		}
		return d
	}
	d.Method = "best fit"
	labels := make([]string, len(f.Points))
	for i, p := range f.Points {
		labels[i] = p.Label
	}
	d.residuals(f.Best.Residuals, labels)
	d.Conditioning = []figure{
		{"spread of the points, longest way", mm(f.Best.Spread[0]), "mm"},
		{"spread of the points, across", mm(f.Best.Spread[1]), "mm"},
		{"spread of the points, thinnest way", mm(f.Best.Spread[2]), "mm"},
		{"shortest baseline", mm(f.Best.Shortest.Length), "mm"},
		{"scale of measured to nominal", round(f.Best.Scale, 6), ""},
		{"uncertainty of the angle", round(f.Degrees(), 4), "°"},
	}
	return d
}

func (d *document) residuals(r fit.Residuals, labels []string) {
	d.RMS, d.Largest, d.Worst = mean(r.RMS), mm(r.Largest), labels[r.Worst]
	for i, each := range r.Each {
		d.Residuals = append(d.Residuals, residual{labels[i], place(each.Off), mm(each.Length)})
	}
}

func (a *Answer) ofTool() document {
	t := a.Tool
	d := document{
		Kind: "tool", Name: a.Name, Method: "pivot", Points: len(t.Poses),
		At: place(t.Tip), Post: place(t.Post), Length: mm(t.Tip.Norm()),
	}
	if a.Turn != nil {
		d.RPY, d.Quaternion = angles(*a.Turn), quaternion(*a.Turn)
	}
	labels := make([]string, len(t.Poses))
	for i := range labels {
		labels[i] = "pose " + strconv.Itoa(i+1)
	}
	d.residuals(t.Residuals, labels)
	const perCoordinate = 0.5773502691896258 // 1/√3
	d.CoordinateRMS = mean(t.RMS * perCoordinate)
	d.Conditioning = []figure{
		{"angle between the two most different poses", round(t.Widest, 3), "°"},
		{"condition, 1 is ideal", round(t.Condition, 3), ""},
		{"uncertainty along " + fit.Direction(t.Weakest) + " of the flange, the weakest direction", mm(t.Uncertainty()), "mm"},
	}
	return d
}

func (a *Answer) ofGrid() document {
	g := a.Grid
	s := g.Surface
	at := s.At(0, 0)
	pair := func(p [2]float64) []num { return []num{mm(p[0]), mm(p[1])} }
	d := document{
		Kind: "grid", Name: a.Name, Method: "corners", Points: len(g.Corners), At: place(at),
		ColumnStep: place(s.At(0, 1).Sub(at)), RowStep: place(s.At(1, 0).Sub(at)),
		ColumnPitch: pair(s.ColPitch), RowPitch: pair(s.RowPitch), Skew: degrees(s.Skew),
		Conditioning: []figure{
			{"columns between the corners", round(float64(g.Steps[0]), 0), ""},
			{"rows between the corners", round(float64(g.Steps[1]), 0), ""},
		},
	}
	if len(g.Corners) == 4 {
		d.Miss, d.Warp = mm(s.Miss.Norm()), mm(s.Warp)
	}
	return d
}

// touchOf is how far off one touch was taken to be.
func (a *Answer) touchOf() float64 {
	switch {
	case a.Frame != nil:
		return a.Frame.Touch
	case a.Tool != nil:
		return a.Tool.Touch
	}
	return plan.DefaultTouchError
}
