package fit

import (
	"errors"
	"math"

	"gridferry/gen/geom"
)

// Suspects are the points that spoil a best fit, each taken alone.
type Suspects struct {
	// Best is the index of the point without which the others fit best, or -1
	// where no single point is to blame, or nothing is wrong.
	Best int
	// All are the points without which the others fit within the tolerance, by
	// index. More than one means that the points cannot tell which it is.
	All []Omission
	// Untried are the points without which the others lie along one line.
	Untried []int
}

// Omission is a fit without one point.
type Omission struct {
	Index   int
	Largest float64 // residual of the others, mm
	RMS     float64 // of the others, mm
	Miss    float64 // of the point left out, from where the others put it, mm
}

// LeaveOneOut looks for the one pair of points that, left out, brings every
// residual of BestFit down to tolerance mm or less. It finds none where all points
// together are inside already. It takes four points or more, and refuses what
// BestFit refuses, except a mirrored set, which one wrong point can bring about.
func LeaveOneOut(nominal, measured []geom.Vec, tolerance float64) (Suspects, error) {
	s := Suspects{Best: -1}
	if n := min(len(nominal), len(measured)); n < 4 {
		return s, &Error{Kind: TooFew, Of: "point", Got: float64(n), Want: 4}
	}
	all, err := BestFit(nominal, measured)
	if err != nil && !isKind(err, Mirrored) {
		return s, err
	}
	if err == nil && all.Largest <= tolerance {
		return s, nil
	}
	least := math.Inf(1)
	for i := range nominal {
		o, err := omit(i, nominal, measured)
		switch {
		case isKind(err, OneLineMany):
			s.Untried = append(s.Untried, i)
		case err == nil && o.Largest <= tolerance:
			s.All = append(s.All, o)
			if o.Largest < least-sameFit {
				least, s.Best = o.Largest, i
			}
		}
	}
	return s, nil
}

// omit fits all points but the one with index i.
func omit(i int, nominal, measured []geom.Vec) (Omission, error) {
	f, err := BestFit(without(i, nominal), without(i, measured))
	if err != nil {
		return Omission{}, err
	}
	miss := measured[i].Dist(f.Pose.Apply(nominal[i]))
	return Omission{Index: i, Largest: f.Largest, RMS: f.RMS, Miss: miss}, nil
}

func without(i int, points []geom.Vec) []geom.Vec {
	rest := make([]geom.Vec, 0, len(points)-1)
	return append(append(rest, points[:i]...), points[i+1:]...)
}

func isKind(err error, k Kind) bool {
	var e *Error
	return errors.As(err, &e) && e.Kind == k
}
