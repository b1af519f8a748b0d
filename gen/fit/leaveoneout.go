package fit

import (
	"errors"
	"math"

	"gridferry/gen/geom"
)

// Suspects are the points (or poses) that spoil a fit, each taken alone.
type Suspects struct {
	// Best is the index of the point without which the others fit best, or -1
	// where no single point is to blame, or nothing is wrong.
	Best int
	// All are the points without which the others fit within the tolerance, by
	// index. More than one means that the points cannot show which it is.
	All []Omission
	// Untried are the points without which the others lie along one line, or the
	// poses without which the others turn about one axis.
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
	s.try(len(nominal), tolerance, OneLineMany, func(i int) (Omission, error) { return omit(i, nominal, measured) })
	return s, nil
}

// LeaveOneOutPose looks for the one pose that, left out, brings the residuals of
// all others to tolerance mm or less. It takes four poses or more, and refuses
// what Pivot refuses.
func LeaveOneOutPose(poses []geom.Pose, tolerance float64) (Suspects, error) {
	s := Suspects{Best: -1}
	if n := len(poses); n < 4 {
		return s, &Error{Kind: TooFew, Of: "pose", Got: float64(n), Want: 4}
	}
	all, err := Pivot(poses)
	if err != nil || all.Largest <= tolerance {
		return s, err
	}
	s.try(len(poses), tolerance, OneAxis, func(i int) (Omission, error) { return omitPose(i, poses) })
	return s, nil
}

// try leaves out one of n after another. A fit refused as degenerate could not be
// judged.
func (s *Suspects) try(n int, tolerance float64, degenerate Kind, omit func(int) (Omission, error)) {
	least := math.Inf(1)
	for i := range n {
		o, err := omit(i)
		switch {
		case isKind(err, degenerate) || isKind(err, OneTurn):
			s.Untried = append(s.Untried, i)
		case err == nil && o.Largest <= tolerance:
			s.All = append(s.All, o)
			if o.Largest < least-sameFit {
				least, s.Best = o.Largest, i
			}
		}
	}
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

// omitPose fits all poses but the one with index i.
func omitPose(i int, poses []geom.Pose) (Omission, error) {
	c, err := Pivot(without(i, poses))
	if err != nil {
		return Omission{}, err
	}
	return Omission{Index: i, Largest: c.Largest, RMS: c.RMS, Miss: poses[i].Apply(c.Tip).Dist(c.Post)}, nil
}

func without[T any](i int, all []T) []T {
	rest := make([]T, 0, len(all)-1)
	return append(append(rest, all[:i]...), all[i+1:]...)
}

func isKind(err error, k Kind) bool {
	var e *Error
	return errors.As(err, &e) && e.Kind == k
}
