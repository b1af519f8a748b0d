package arm

import (
	"math"

	"gridferry/gen/geom"
)

const (
	// met is how near the flange has to come to a pose: in lengths of the arm, and in radians.
	met = 1e-10
	// fine is where polishing stops: some hundred times what rounding does to a forward pass.
	fine = 1e-13
	// rounds bounds Newton's steps; from nearby it takes one to three.
	rounds = 10
	// widest is the widest step of Newton's, in radians and arm's lengths.
	widest = 0.5
)

// equations are J·δ = e: what a small change δ of the readings does to the flange, and what is
// still missing to the pose. The rows are ways by the arm's length, and turns in radians; δ is in radians of
// joints that turn and in arm's lengths of joints that slide.
type equations struct {
	joints int
	j      [6][MaxJoints]float64
	e      [6]float64
	off    float64 // the length of e
}

// equate writes the equations of the arm at its readings.
func (a *Arm) equate(r *Readings, flange geom.Pose, q *equations) {
	here, columns := a.stance(r)
	q.joints = len(a.Joints)
	perLength := 1 / a.length
	for i := range a.Joints {
		way, turn := columns[i].Linear, columns[i].Turn
		if !a.Joints[i].Slides {
			way = way.Scale(perLength)
		}
		q.j[0][i], q.j[1][i], q.j[2][i] = way.X, way.Y, way.Z
		q.j[3][i], q.j[4][i], q.j[5][i] = turn.X, turn.Y, turn.Z
	}
	way, turn := flange.T.Sub(here.T).Scale(perLength), turnTo(here.R, flange.R)
	q.e = [6]float64{way.X, way.Y, way.Z, turn.X, turn.Y, turn.Z}
	q.off = math.Sqrt(way.Dot(way) + turn.Dot(turn))
}

// turnTo returns the turn from one orientation to another, about the base's axes, in radians.
func turnTo(from, to geom.Rot) geom.Vec {
	var v geom.Vec
	trace := 0.0
	for i := range 3 {
		a, b := from.Column(i), to.Column(i)
		v = v.Add(a.Cross(b))
		trace += a.Dot(b)
	}
	if trace > 2.9 { // within 18°: the sine is its angle but for a part of the third order, which the next round meets
		return v.Scale(0.5)
	}
	return to.Mul(from.T()).Vector().Scale(math.Pi / 180)
}

// polish moves readings until the flange is at a pose, and reports whether it got there. The equations
// are left as they are at the readings it returns.
func (a *Arm) polish(r Readings, flange geom.Pose, q *equations) (Readings, bool) {
	a.equate(&r, flange, q)
	if q.off > fine {
		r = a.newton(r, flange, q)
	}
	if q.off > met {
		r = a.descend(r, flange, q)
	}
	return r, q.off <= met
}

// newton takes Newton's steps and returns the best readings on the way. A step may lead away from the pose
// at first: near singular poses it has to, to get there at all.
func (a *Arm) newton(r Readings, flange geom.Pose, best *equations) Readings {
	here, at := *best, r
	for range rounds {
		step, least := here.eliminate()
		if here.joints != 6 || least == 0 || size(step) > widest {
			break
		}
		at = a.moved(at, step, 1)
		a.equate(&at, flange, &here)
		slow := here.off > best.off/2
		if here.off < best.off {
			r, *best = at, here
		}
		if best.off <= fine || slow && best.off <= met/100 {
			break
		}
	}
	return r
}

// descend takes steps that are damped by the square of what is missing, and more where that does not bring the
// flange nearer to the pose. So damped, steps converge fast where the solutions are a curve too, and halve what is missing
// where two have become one (Yamashita & Fukushima, Computing Suppl. 15, 2001; from memory).
func (a *Arm) descend(r Readings, flange geom.Pose, q *equations) Readings {
	var there equations
	damping := 1.0
	for range 6 * rounds {
		if q.off <= fine || damping > 1e12 {
			break
		}
		next := a.moved(r, q.damped(max(float64(q.off*q.off), 1e-16)*damping), 1)
		a.equate(&next, flange, &there)
		if there.off >= q.off {
			if q.off <= met/100 {
				break
			}
			damping *= 100
			continue
		}
		slow := there.off > q.off/2
		r, *q = next, there
		if slow && q.off <= met/100 {
			break
		}
		damping = max(damping/10, 1)
	}
	return r
}

// moved returns readings that are moved by a multiple of δ.
func (a *Arm) moved(r Readings, d [MaxJoints]float64, times float64) Readings {
	for i := range a.Joints {
		unit := 180 / math.Pi
		if a.Joints[i].Slides {
			unit = a.length
		}
		r[i] += float64(d[i] * times * unit)
	}
	return r
}

// eliminate solves the equations of six joints by Gauss's elimination, taking the largest pivot left each time,
// and returns the least pivot: 0 or nearly so where the rank is less than six.
func (q *equations) eliminate() (d [MaxJoints]float64, least float64) {
	m, e := q.j, q.e
	order := [6]int{0, 1, 2, 3, 4, 5}
	for k := range 6 {
		row, column := k, k
		least = 0
		for i := k; i < 6; i++ {
			for j := k; j < 6; j++ {
				if v := math.Abs(m[i][j]); v > least {
					least, row, column = v, i, j
				}
			}
		}
		if least == 0 {
			return d, 0
		}
		m[k], m[row], e[k], e[row] = m[row], m[k], e[row], e[k]
		if column != k {
			order[k], order[column] = order[column], order[k]
			for i := range m {
				m[i][k], m[i][column] = m[i][column], m[i][k]
			}
		}
		for i := k + 1; i < 6; i++ {
			f := m[i][k] / m[k][k]
			for j := k + 1; j < 6; j++ {
				m[i][j] -= float64(f * m[k][j])
			}
			e[i] -= float64(f * e[k])
		}
	}
	for k := 5; k >= 0; k-- {
		v := e[k]
		for j := k + 1; j < 6; j++ {
			v -= float64(m[k][j] * d[order[j]])
		}
		d[order[k]] = v / m[k][k]
	}
	return d, least
}

// damped solves (JᵀJ + λ)·δ = Jᵀe by Cholesky's factors.
func (q *equations) damped(lambda float64) (d [MaxJoints]float64) {
	var l [MaxJoints][MaxJoints]float64
	n := q.joints
	for i := range n {
		for k := range i + 1 {
			sum := q.product(i, k)
			if i == k {
				sum += lambda
			}
			for m := range k {
				sum -= float64(l[i][m] * l[k][m])
			}
			if i == k {
				l[i][i] = math.Sqrt(max(sum, lambda/4))
			} else {
				l[i][k] = sum / l[k][k]
			}
		}
		for row := range q.e {
			d[i] += float64(q.j[row][i] * q.e[row])
		}
	}
	for i := range n {
		for k := range i {
			d[i] -= float64(l[i][k] * d[k])
		}
		d[i] /= l[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			d[i] -= float64(l[k][i] * d[k])
		}
		d[i] /= l[i][i]
	}
	return d
}

// regular reports whether no direction is lost, by the determinant of JᵀJ: the product of the squared
// singular values is no more than the least of them times what the others can make of their sum, which is that of the
// diagonal (the geometric mean is no more than the arithmetic one). It may report false of a pose that is nearly singular.
func (q *equations) regular() bool {
	n := min(q.joints, 6)
	var g [6][6]float64
	sum, most := 0.0, float64(lost*lost)
	for i := range n {
		for k := range i + 1 {
			if q.joints <= 6 {
				g[i][k] = q.product(i, k)
			} else {
				for column := range q.joints {
					g[i][k] += float64(q.j[i][column] * q.j[k][column])
				}
			}
		}
		sum += g[i][i]
	}
	for range n - 1 {
		most = float64(most*sum) / float64(n-1)
	}
	determinant := 1.0
	for k := range n {
		if determinant *= g[k][k]; !(determinant > 0) {
			return false
		}
		for i := k + 1; i < n; i++ {
			f := g[i][k] / g[k][k]
			for j := k + 1; j <= i; j++ {
				g[i][j] -= float64(f * g[j][k])
			}
		}
	}
	return determinant > most
}

// product is that of two columns of J.
func (q *equations) product(i, k int) (sum float64) {
	for row := range q.j {
		sum += float64(q.j[row][i] * q.j[row][k])
	}
	return sum
}
