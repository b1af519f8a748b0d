package fit

import (
	"math"

	"gridferry/gen/geom"
)

// ToolCentre is a tool centre point found by holding the tip on one spot while
// the flange turns about it, and what the figure is worth.
type ToolCentre struct {
	Tip       geom.Vec // the tool centre point in flange coordinates, mm
	Post      geom.Vec // the spot in base coordinates, mm
	Residuals          // Post as each pose has it - Post, along the base's axes

	// Condition is how many times worse the tip is known along Weakest than
	// along the direction it is known best: 1 is ideal.
	Condition float64
	Weakest   geom.Vec // unit vector, flange coordinates
	// Gain is how many mm the tip may be off along Weakest for every mm that a
	// pose misses the spot by.
	Gain float64

	// Widest is the angle between the two most different poses, in degrees.
	// Below WideSpread the figure deserves a warning.
	Widest     float64
	WidestPair [2]int
}

// Pivot returns the tool centre point from poses of the flange in the base. With
// Rᵢ, tᵢ the turn and the place of pose i it is the least-squares answer of
// Rᵢ·tip + tᵢ = post, in all three coordinates of all poses.
//
// It refuses fewer than three poses, more than MostPoints and, because the tip along
// the axis stays unknown then, poses that turn about one axis only, or not at all.
func Pivot(poses []geom.Pose) (ToolCentre, error) {
	if e := tooMany("pose", len(poses)); e != nil {
		return ToolCentre{}, e
	}
	for i, p := range poses {
		if !finite(p) {
			return ToolCentre{}, &Error{Kind: OutOfRange, Of: "pose", Points: []int{i}}
		}
	}
	if len(poses) < 3 {
		return ToolCentre{}, tooFewPoses(poses)
	}
	var c ToolCentre
	c.Widest, c.WidestPair = widest(poses)
	mean := meanPose(poses)
	rows, places := lever(poses, mean)
	values, along := principal(rows)
	if e := turnsEnough(values, along, len(poses), c.Widest); e != nil {
		return ToolCentre{}, e
	}
	c.Condition, c.Weakest = values[0]/values[2], along[2]
	c.Gain = 1 / values[2]
	c.Tip = leastSquares(rows, places, values, along)
	c.Post = mean.Apply(c.Tip)
	off := make([]geom.Vec, len(poses))
	for i, p := range poses {
		off[i] = p.Apply(c.Tip).Sub(c.Post)
	}
	c.Residuals = summarise(off)
	return c, nil
}

// tooFewPoses refuses fewer than three. Two of them turn about one axis, whatever
// they are, so what stays unknown and what to add can be said.
func tooFewPoses(poses []geom.Pose) *Error {
	e := &Error{Kind: TooFew, Of: "pose", Got: float64(len(poses)), Want: 3}
	if len(poses) < 2 {
		return e
	}
	angle, _ := widest(poses)
	rows, _ := lever(poses, meanPose(poses))
	values, along := principal(rows)
	if turns := turnsEnough(values, along, len(poses), angle); turns != nil {
		e.Free, e.About = turns.Free, turns.About
	}
	return e
}

// finite reports whether a pose holds numbers only, its place within Farthest.
func finite(p geom.Pose) bool {
	return usable("", []geom.Vec{p.T}) == nil &&
		p.R.Column(0).Finite() && p.R.Column(1).Finite() && p.R.Column(2).Finite()
}

// widest returns the angle between the two most different poses, and their indices.
func widest(poses []geom.Pose) (angle float64, pair [2]int) {
	least := math.Inf(1)
	for i := range poses {
		for j := range i {
			// The trace of the turn between them falls as the angle grows, and is cheaper.
			trace := inner(poses[j].R, poses[i].R)
			if trace > least+1e-12 { // more than rounding
				continue
			}
			if a := poses[j].R.T().Mul(poses[i].R).Angle(); a > angle+sameFit {
				angle, pair, least = a, [2]int{j, i}, trace
			}
		}
	}
	return angle, pair
}

// inner is the trace of aᵀ·b.
func inner(a, b geom.Rot) (sum float64) {
	for i := range a {
		sum += float64(a[i][0]*b[i][0]) + float64(a[i][1]*b[i][1]) + float64(a[i][2]*b[i][2])
	}
	return sum
}

// meanPose averages turns and places entry by entry. Its R is no rotation: it is
// what is left when the post is eliminated from the equations, since for any tip
// the best post is the mean of Rᵢ·tip + tᵢ.
func meanPose(poses []geom.Pose) geom.Pose {
	var sum geom.Pose
	share := 1 / float64(len(poses))
	for _, p := range poses {
		sum.T = sum.T.Add(p.T.Scale(share))
		for i := range p.R {
			for j := range p.R[i] {
				sum.R[i][j] += float64(p.R[i][j] * share)
			}
		}
	}
	return sum
}

// lever returns the equations that are left for the tip: row · tip = place, three
// for each pose, with (Rᵢ - mean R)·tip = mean t - tᵢ.
func lever(poses []geom.Pose, mean geom.Pose) (rows []geom.Vec, places []float64) {
	for _, p := range poses {
		off := mean.T.Sub(p.T)
		places = append(places, off.X, off.Y, off.Z)
		for i := range p.R {
			rows = append(rows, geom.Vec{X: p.R[i][0] - mean.R[i][0], Y: p.R[i][1] - mean.R[i][1], Z: p.R[i][2] - mean.R[i][2]})
		}
	}
	return rows, places
}

// turnsEnough refuses poses that leave a direction of the tip unknown: one that
// points (nearly) the same way in all of them. Turns about one axis leave that axis;
// two directions at once are left only where nothing turns at all.
func turnsEnough(values [3]float64, along [3]geom.Vec, n int, widest float64) *Error {
	switch {
	case values[1] < enough(n):
		return &Error{Kind: OneTurn, Of: "pose", Got: widest, Want: WideSpread, About: geom.Vec{X: 1}}
	case values[2] < enough(n):
		return &Error{Kind: OneAxis, Of: "pose", Got: widest, Want: WideSpread, Free: along[2], About: across(along[2])}
	}
	return nil
}

// enough is the least singular value of a direction that n poses make known. Over √n
// it is how far the direction's unit vector strays from its mean, root mean square.
func enough(n int) float64 { return float64(minRatio * math.Sqrt(float64(n))) }

// across returns the flange axis that is most nearly square to v.
func across(v geom.Vec) geom.Vec {
	x, y, z := math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)
	switch {
	case x <= y+minRatio && x <= z+minRatio: // X in case of doubt
		return geom.Vec{X: 1}
	case y <= z+minRatio:
		return geom.Vec{Y: 1}
	default:
		return geom.Vec{Z: 1}
	}
}

// leastSquares solves row · x = place along each principal direction.
func leastSquares(rows []geom.Vec, places []float64, values [3]float64, along [3]geom.Vec) geom.Vec {
	var x geom.Vec
	for k, axis := range along {
		sum := 0.0
		for i, row := range rows {
			sum += float64(row.Dot(axis) * places[i])
		}
		x = x.Add(axis.Scale(sum / float64(values[k]*values[k])))
	}
	return x
}
