package scene

import (
	"encoding/json"
	"io"
	"math"
	"strconv"

	"gridferry/gen/decimal"
	"gridferry/gen/geom"
)

// Write writes the scene as JSON that is safe inside a script element: encoding/json escapes "<", ">", "&" and the
// line ends of Unicode.
func (s *Scene) Write(w io.Writer) error {
	text, err := json.Marshal(s)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// Figures, each with its decimals. Lists of them are most of a scene, and encoding/json by itself takes several
// times as long for them.
type (
	Length     float64 // mm, or what is as fine
	Lengths    []float64
	Reading    float64 // of a joint
	Readings   []float64
	Numbers    []int32
	Vec        [3]float64 // X, Y and Z
	Axis       [3]float64 // likewise, of length 1
	Quaternion [4]float64 // W, X, Y and Z
	Pose       [7]float64 // a Vec, and a Quaternion behind it
)

// Their decimals.
const (
	lengthDecimals  = 3
	readingDecimals = 4
	turnDecimals    = 6
)

func (v Length) MarshalJSON() ([]byte, error) {
	return appendFigure(nil, float64(v), lengthDecimals), nil
}
func (v Reading) MarshalJSON() ([]byte, error) {
	return appendFigure(nil, float64(v), readingDecimals), nil
}
func (v Lengths) MarshalJSON() ([]byte, error)    { return figures(v, lengthDecimals), nil }
func (v Readings) MarshalJSON() ([]byte, error)   { return figures(v, readingDecimals), nil }
func (v Vec) MarshalJSON() ([]byte, error)        { return figures(v[:], lengthDecimals), nil }
func (v Axis) MarshalJSON() ([]byte, error)       { return figures(v[:], turnDecimals), nil }
func (v Quaternion) MarshalJSON() ([]byte, error) { return figures(v[:], turnDecimals), nil }

// MarshalJSON writes lengths and turns, each as such.
func (v Pose) MarshalJSON() ([]byte, error) {
	b := figures(v[:3], lengthDecimals)
	b[len(b)-1] = ','
	return append(b, figures(v[3:], turnDecimals)[1:]...), nil
}

// MarshalJSON is that of any list, but faster.
func (v Numbers) MarshalJSON() ([]byte, error) {
	b := append(make([]byte, 0, 4*len(v)+2), '[')
	for i, n := range v {
		if i > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendInt(b, int64(n), 10)
	}
	return append(b, ']'), nil
}

func figures(all []float64, decimals int) []byte {
	b := append(make([]byte, 0, 8*len(all)+2), '[')
	for i, v := range all {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendFigure(b, v, decimals)
	}
	return append(b, ']')
}

// appendFigure writes a number with so many decimals at most, and never "-0".
func appendFigure(b []byte, v float64, decimals int) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, '0') // never reached: nothing in a plan is NaN or infinite
	}
	n, _, ok := decimal.Nearest(math.Abs(v), decimals)
	if !ok {
		return strconv.AppendFloat(b, v, 'f', -1, 64)
	}
	if v < 0 && n > 0 {
		b = append(b, '-')
	}
	for decimals > 0 && n%10 == 0 {
		n, decimals = n/10, decimals-1
	}
	return decimal.Append(b, n, decimals)
}

// Line is a number, from 1, and a text; in JSON a list of both.
type Line struct {
	N    int
	Text string
}

func (l Line) MarshalJSON() ([]byte, error) { return json.Marshal([]any{l.N, l.Text}) }

func (l *Line) UnmarshalJSON(b []byte) error { return json.Unmarshal(b, &[]any{&l.N, &l.Text}) }

func vecOf(v geom.Vec) Vec { return Vec{v.X, v.Y, v.Z} }

func (v Vec) vec() geom.Vec { return geom.Vec{X: v[0], Y: v[1], Z: v[2]} }

func quaternionOf(r geom.Rot) Quaternion {
	w, x, y, z := r.Quaternion()
	return Quaternion{w, x, y, z}
}

func poseOf(p geom.Pose) Pose {
	q := quaternionOf(p.R)
	return Pose{p.T.X, p.T.Y, p.T.Z, q[0], q[1], q[2], q[3]}
}
