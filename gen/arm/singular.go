package arm

import "math"

const (
	// lost is the singular value of the Jacobian, scaled as in [equations], below which a direction counts as lost.
	// A pose at which two solutions have become one is met to 1e-10 by readings that are √1e-10 off.
	lost = 1e-5
	// probe is how far a joint is moved to see whether it is free, in radians or lengths.
	probe = 0.03
	// stays is how far it has to remain from where it was, and stirs what counts as a movement.
	stays, stirs = probe / 2, 1e-4
)

// lostDirections returns changes δ of unit length that move the flange not at all, square to each
// other: the right singular vectors to singular values of about 0, by turning pairs of columns square
// (Hestenes, J. SIAM 6, 1958; from memory). Of more than six joints some are to spare at every pose; they are not
// counted.
func (q *equations) lostDirections() (lostOnes [MaxJoints][MaxJoints]float64, n int) {
	u := *q
	var v [MaxJoints][MaxJoints]float64 // columns
	for i := range q.joints {
		v[i][i] = 1
	}
	for range 30 {
		turned := false
		for i := range q.joints {
			for k := i + 1; k < q.joints; k++ {
				turned = u.square(&v, i, k) || turned
			}
		}
		if !turned {
			break
		}
	}
	spare := max(0, q.joints-6)
	for i := range q.joints {
		if math.Sqrt(u.product(i, i)) < lost {
			if spare > 0 {
				spare--
				continue
			}
			for k := range q.joints {
				lostOnes[n][k] = v[k][i]
			}
			n++
		}
	}
	return lostOnes, n
}

// square turns two columns until they are square to each other; false where they are.
func (q *equations) square(v *[MaxJoints][MaxJoints]float64, i, k int) bool {
	a, b, c := q.product(i, i), q.product(k, k), q.product(i, k)
	if math.Abs(c) <= 1e-15*math.Sqrt(float64(a*b)) || math.Abs(c) < 1e-30 {
		return false
	}
	z := (b - a) / (2 * c)
	t := 1 / (math.Abs(z) + math.Sqrt(1+float64(z*z)))
	if z < 0 {
		t = -t
	}
	cos := 1 / math.Sqrt(1+float64(t*t))
	sin := float64(cos * t)
	for row := range q.j {
		q.j[row][i], q.j[row][k] = float64(cos*q.j[row][i])-float64(sin*q.j[row][k]), float64(sin*q.j[row][i])+float64(cos*q.j[row][k])
	}
	for row := range v {
		v[row][i], v[row][k] = float64(cos*v[row][i])-float64(sin*v[row][k]), float64(sin*v[row][i])+float64(cos*v[row][k])
	}
	return true
}

// free finds which joints may be moved with the flange staying: those that stir when the arm is moved along a lost
// direction, polished back to the pose, and does not come back to where it was.
func (s *solutions) free(r Readings, lostOnes *[MaxJoints][MaxJoints]float64, n int) (free uint8) {
	var q equations
	for k := range n {
		moved, ok := s.arm.polish(s.arm.moved(r, lostOnes[k], probe), s.flange, &q)
		if !ok {
			continue
		}
		way := s.arm.way(r, moved)
		if size(way) < stays || !s.midway(r, moved, way) {
			continue
		}
		for i, d := range way {
			if math.Abs(d) > stirs {
				free |= 1 << i
			}
		}
	}
	return free
}

// midway says whether there is a solution midway between two, and not only those, which polishing comes back to.
func (s *solutions) midway(r, other Readings, way [MaxJoints]float64) bool {
	var q equations
	half, ok := s.arm.polish(s.arm.moved(r, way, 0.5), s.flange, &q)
	return ok && min(size(s.arm.way(r, half)), size(s.arm.way(other, half))) > size(way)/4
}

// nearest moves readings along lost directions for as long as that brings them nearer to others,
// with the flange staying; the sum of the squares in radians and arm's lengths is what counts.
func (s *solutions) nearest(r, near Readings) Readings {
	const stride = 0.1
	var q, trial equations
	s.arm.equate(&r, s.flange, &q)
	times := 1.0
	for range 300 {
		lostOnes, n := q.lostDirections()
		way := s.arm.way(r, near)
		along := project(way, &lostOnes, n)
		long := size(along)
		if long*times < 1e-9 {
			break
		}
		next, ok := s.arm.polish(s.arm.moved(r, along, min(times, stride/long)), s.flange, &trial)
		if !ok || size(s.arm.way(next, near)) >= size(way) {
			times /= 2
			continue
		}
		r, q = next, trial
		times = min(1, 2*times)
	}
	return r
}

// project returns the part of a way that lies in lost directions.
func project(way [MaxJoints]float64, lostOnes *[MaxJoints][MaxJoints]float64, n int) (along [MaxJoints]float64) {
	for k := range n {
		part := 0.0
		for i := range way {
			part += float64(way[i] * lostOnes[k][i])
		}
		for i := range way {
			along[i] += float64(part * lostOnes[k][i])
		}
	}
	return along
}

// way is from readings to others, by the shorter turn of each joint, in radians and arm's lengths.
func (a *Arm) way(from, to Readings) (d [MaxJoints]float64) {
	d, _ = a.short(from, to, math.Inf(1))
	return d
}

// short is way, as far as no joint goes farther than a limit; false where one does.
func (a *Arm) short(from, to Readings, limit float64) (d [MaxJoints]float64, is bool) {
	for i := len(a.Joints) - 1; i >= 0; i-- {
		if d[i] = to[i] - from[i]; a.Joints[i].Slides {
			d[i] /= a.length
		} else {
			d[i] = turned(d[i]) * (math.Pi / 180)
		}
		if math.Abs(d[i]) > limit {
			return d, false
		}
	}
	return d, true
}

func size(d [MaxJoints]float64) float64 {
	sum := 0.0
	for _, v := range d {
		sum += float64(v * v)
	}
	return math.Sqrt(sum)
}
