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
	s.try(len(nominal), newPairs(nominal, measured), tolerance)
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
	s.try(len(poses), newTurns(poses, all.Tip), tolerance)
	return s, nil
}

// lesser is a fit that can do without one of its points. Sums over all points are
// kept, and what one point adds to them is taken off again, so that leaving out each
// point in turn costs a few products, not a fit from the beginning.
type lesser interface {
	// without is where the others put each point when one is left out; judged is
	// false where they alone give no answer.
	without(i int) (left left, judged bool)
}

// left is the answer of the points that are left.
type left struct {
	off   func(k int) geom.Vec    // from where they put point k to where it was touched
	sound func(rest float64) bool // whether the answer holds, rest being the sum of their squared residuals
}

// try leaves out one of n after another.
func (s *Suspects) try(n int, fit lesser, tolerance float64) {
	least := math.Inf(1)
	for i := range n {
		left, judged := fit.without(i)
		if !judged {
			s.Untried = append(s.Untried, i)
			continue
		}
		if o, within := left.omission(i, n, tolerance); within {
			s.All = append(s.All, o)
			if o.Largest < least-sameFit {
				least, s.Best = o.Largest, i
			}
		}
	}
}

// omission has the figures of the others, or is false as soon as one of them is
// beyond the tolerance.
func (l left) omission(i, n int, tolerance float64) (Omission, bool) {
	o := Omission{Index: i, Miss: l.off(i).Norm()}
	rest := 0.0
	for k := range n {
		if k == i {
			continue
		}
		off := l.off(k)
		if o.Largest = max(o.Largest, off.Norm()); o.Largest > tolerance {
			return o, false
		}
		rest += off.Dot(off)
	}
	o.RMS = math.Sqrt(rest / float64(n-1))
	return o, l.sound(rest)
}

// share is what a point's products with itself weigh when it is taken off sums about
// the mean of n points: the mean moves away from it, too.
func share(n int) float64 { return float64(n) / float64(n-1) }

// pairs are the sums of a best fit.
type pairs struct {
	a, b    []geom.Vec // nominal and measured points about their means
	h, p, q geom.Rot   // sums of b·aᵀ, a·aᵀ and b·bᵀ
}

func newPairs(nominal, measured []geom.Vec) *pairs {
	s := pairs{a: about(centroid(nominal), nominal), b: about(centroid(measured), measured)}
	s.h, s.p, s.q = products(s.b, s.a), products(s.a, s.a), products(s.b, s.b)
	return &s
}

func (s *pairs) without(i int) (left, bool) {
	n, a, b := len(s.a), s.a[i:i+1], s.b[i:i+1]
	spread := singular(less(s.p, products(a, a), n))
	if other := singular(less(s.q, products(b, b), n)); oneLine(spread) || oneLine(other) {
		return left{}, false
	}
	turn, _, gain := nearestRotation(less(s.h, products(b, a), n))
	from, to := meanWithout(a[0], n), meanWithout(b[0], n)
	return left{
		off: func(k int) geom.Vec { return s.b[k].Sub(to).Sub(turn.Apply(s.a[k].Sub(from))) },
		sound: func(rest float64) bool {
			return flat(spread) || !mirrors(rest, gain)
		},
	}, true
}

// meanWithout is the mean of n points about their mean when one of them is left out.
func meanWithout(p geom.Vec, n int) geom.Vec { return p.Scale(-1 / float64(n-1)) }

// less takes what one of n points adds off a sum about their mean.
func less(sum, one geom.Rot, n int) geom.Rot {
	for i := range sum {
		for j := range sum[i] {
			sum[i][j] -= float64(share(n) * one[i][j])
		}
	}
	return sum
}

// turns are the sums of a pivot, and its answer from all poses.
type turns struct {
	poses []geom.Pose
	mean  geom.Pose
	tip   geom.Vec
	m     geom.Rot // sum of (Rᵢ - mean R)ᵀ·(Rᵢ - mean R)
}

func newTurns(poses []geom.Pose, tip geom.Vec) *turns {
	t := turns{poses: poses, mean: meanPose(poses), tip: tip}
	rows, _ := lever(poses, t.mean)
	t.m = products(rows, rows)
	return &t
}

// without moves the tip by what pose i had pulled it, in closed form: with D = Rᵢ -
// mean R and r what the tip of all leaves at pose i, the tip of the others is tip +
// (M - c·DᵀD)⁻¹·c·Dᵀ·r, c as share says (R. D. Cook, Technometrics 19(1), 1977,
// 15-18, for rows one by one; from memory).
func (t *turns) without(i int) (left, bool) {
	n := len(t.poses)
	rows, places := lever(t.poses[i:i+1], t.mean)
	m := less(t.m, products(rows, rows), n)
	if singular(m)[2] < enough(n-1) {
		return left{}, false
	}
	var pull geom.Vec
	for k, row := range rows {
		pull = pull.Add(row.Scale(row.Dot(t.tip) - places[k]))
	}
	tip := t.tip.Add(solve(m, pull.Scale(share(n))))
	// The post is where the others have the tip on the mean: theirs, without pose i.
	mine, all := t.poses[i].Apply(tip), t.mean.Apply(tip)
	post := all.Sub(mine.Sub(all).Scale(1 / float64(n-1)))
	return left{
		off:   func(k int) geom.Vec { return t.poses[k].Apply(tip).Sub(post) },
		sound: func(float64) bool { return true },
	}, true
}

func isKind(err error, k Kind) bool {
	var e *Error
	return errors.As(err, &e) && e.Kind == k
}
