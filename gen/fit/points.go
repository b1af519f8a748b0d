package fit

import (
	"math"

	"gridferry/gen/geom"
)

// Residual is what is left between a point and its place in the answer.
type Residual struct {
	Off    geom.Vec // from where the answer puts the point to where it was touched, mm
	Length float64  // of Off, mm
}

// Words says how long it is.
func (r Residual) Words() string { return Figure(r.Length) + " mm off" }

// Residuals are those of all points, in their order, and their summary.
type Residuals struct {
	Each    []Residual
	RMS     float64 // root of the mean squared length, mm
	Largest float64 // mm
	Worst   int     // index of the largest
}

// summarise makes Residuals of the differences touched - placed.
func summarise(off []geom.Vec) Residuals {
	r := Residuals{Each: make([]Residual, len(off))}
	sum := 0.0
	for i, v := range off {
		r.Each[i] = Residual{Off: v, Length: v.Norm()}
		sum += v.Dot(v)
		if r.Each[i].Length > r.Largest+sameFit {
			r.Largest, r.Worst = r.Each[i].Length, i
		}
	}
	for _, e := range r.Each { // those that sameFit passed over
		r.Largest = max(r.Largest, e.Length)
	}
	r.RMS = math.Sqrt(sum / float64(len(off)))
	return r
}

// centroid returns the mean of the points.
func centroid(points []geom.Vec) geom.Vec {
	var sum geom.Vec
	for _, p := range points {
		sum = sum.Add(p)
	}
	return sum.Scale(1 / float64(len(points)))
}

// about returns the points as seen from c.
func about(c geom.Vec, points []geom.Vec) []geom.Vec {
	seen := make([]geom.Vec, len(points))
	for i, p := range points {
		seen[i] = p.Sub(c)
	}
	return seen
}

// Baseline is a pair of points and the distance between them.
type Baseline struct {
	Points [2]int
	Length float64 // mm
}

// shortest returns the closest pair of two or more points.
func shortest(points []geom.Vec) Baseline {
	best := Baseline{Length: math.Inf(1)}
	for i := range points {
		for j := range i {
			if d := points[i].Dist(points[j]); d < best.Length {
				best = Baseline{[2]int{j, i}, d}
			}
		}
	}
	return best
}

// usable refuses points that are no places, or closer together than MinDistance.
func usable(of string, points []geom.Vec) *Error {
	for i, p := range points {
		if !(max(math.Abs(p.X), math.Abs(p.Y), math.Abs(p.Z)) <= Farthest) { // also refuses NaN
			return &Error{Kind: OutOfRange, Of: of, Points: []int{i}}
		}
	}
	if b := shortest(points); b.Length < MinDistance {
		return &Error{Kind: TooClose, Of: of, Points: b.Points[:], Got: b.Length, Want: MinDistance}
	}
	return nil
}

// tooMany refuses more than MostPoints.
func tooMany(of string, n int) *Error {
	if n > MostPoints {
		return &Error{Kind: TooMany, Of: of, Got: float64(n), Want: MostPoints}
	}
	return nil
}

// offLine returns how far, in degrees, the angle at corner between the
// directions to p and q is from 0 and from 180.
func offLine(corner, p, q geom.Vec) float64 {
	a := p.Sub(corner).AngleTo(q.Sub(corner))
	return min(a, 180-a)
}
