package arm

import (
	"math"

	"gridferry/gen/geom"
)

// Nearest returns the pose of the flange that is nearest to a wanted one among those that the arm can take: the tip, a point of the flange such as a
// tool centre point, stays where it is wanted, and the flange is turned by as little as can be found,
// off degrees. Where that is 0 it is the wanted pose itself. Ranges do not count. Who asks says how much may be
// off; [Arm.Solve] takes what it is given as it is, to 1e-10.
//
// Whether the arm comes to that place is for Solve to tell. That nothing nearer is there is certain where the
// orientations that the arm turns to are the same at every place (a gantry, a four-axis arm with all axes
// upright). An arm of five axes can lean its flange only in a plane that depends on the place: there the nearest is looked for
// by steps from the readings that miss the pose by little, and from near.
func (a *Arm) Nearest(flange geom.Pose, tip geom.Vec, near Readings) (nearest geom.Pose, off float64) {
	turn, off := a.NearestTurn(flange.R)
	nearest = flange
	if off > 0 {
		nearest = geom.Pose{R: turn, T: flange.Apply(tip).Sub(turn.Apply(tip))}
	}
	if !a.leans() {
		return nearest, off
	}
	var room [64]Solution
	if len(a.Solve(nearest, near, room[:0])) > 0 {
		return nearest, off
	}
	var g guesses
	switch s := a.solver.(type) {
	case guessed:
		g = s.guess(nearest, near)
	case embedded:
		g = s.starts(nearest, near)
	}
	g.add(near)
	least := math.Inf(1)
	for i := range g.n {
		r, ok := a.settle(g.list[i], flange, tip)
		pose := a.Pose(r)
		if _, turned := Off(pose, flange); ok && turned < least {
			least, nearest, off = turned, pose, turned
		}
	}
	return nearest, off
}

// leans says whether it depends on the place which orientations the arm can turn to: it has fewer joints than three and one for
// each direction that they turn about.
func (a *Arm) leans() bool {
	var room [MaxJoints]geom.Vec
	return len(a.Joints) < 3+min(len(a.directions(room[:0])), 3)
}

// settle moves readings until the tip is in its place and the flange is turned as little as it can be from there: steps of Gauss and
// Newton with Lagrange's multipliers.
func (a *Arm) settle(r Readings, flange geom.Pose, tip geom.Vec) (settled Readings, ok bool) {
	const widest = 0.3
	place := flange.Apply(tip)
	for range 200 {
		here, columns := a.stance(&r)
		arm := here.R.Apply(tip)
		for i := range a.Joints {
			way := columns[i].Linear.Add(columns[i].Turn.Cross(arm))
			if !a.Joints[i].Slides {
				way = way.Scale(1 / a.length)
			}
			columns[i].Linear = way
		}
		d := lean(columns[:len(a.Joints)], place.Sub(here.Apply(tip)).Scale(1/a.length), turnTo(here.R, flange.R))
		long := size(d)
		if !(long > fine) {
			break
		}
		r = a.moved(r, d, min(1, widest/long))
	}
	return r, a.Pose(r).Apply(tip).Dist(place) <= met*a.length
}

// lean returns the change of the readings that brings the tip a way on, and of those the one that leaves the least of a turn;
// where several do, about the smallest.
func lean(columns []Twist, way, turn geom.Vec) (d [MaxJoints]float64) {
	const little = 1e-12
	var m system
	n := len(columns)
	for i := range columns {
		for k := range columns {
			m[i][k] = columns[i].Turn.Dot(columns[k].Turn)
		}
		m[i][i] += little
		for k, v := range [...]float64{columns[i].Linear.X, columns[i].Linear.Y, columns[i].Linear.Z} {
			m[i][n+k], m[n+k][i] = v, v
		}
		m[i][n+3] = columns[i].Turn.Dot(turn)
	}
	for k, v := range [...]float64{way.X, way.Y, way.Z} {
		m[n+k][n+k], m[n+k][n+3] = -little, v
	}
	rows := n + 3
	m.reduce(rows, rows+1)
	for i := range n {
		d[i] = m[i][rows] / m[i][i]
	}
	return d
}
