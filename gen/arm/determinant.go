package arm

import "math"

// unknowns is the number of columns of the matrix that is singular at every solution.
const unknowns = 12

// matrix is the biforms, each once times cos θ₄/2 and once times sin θ₄/2, in the 12 products of
// cos θ₄/2, sin θ₄/2, cos 3θ₄/2, sin 3θ₄/2 with 1, cos θ₅, sin θ₅. Where θ₄ and θ₅ fulfil all of them these products are
// a vector, other than 0, that it takes to 0. Of more than six biforms, 12 blends of their rows are taken: a vector that all
// rows take to 0 the blends do too.
type matrix [unknowns][unknowns]float64

func (b *biforms) matrix() (m matrix) {
	for i := range b.rows {
		var byCos, bySin [unknowns]float64
		q := &b.eq[i]
		for k := range 3 {
			one, cos, sin := q[k], q[3+k]/2, q[6+k]/2
			byCos[k], byCos[3+k], byCos[6+k], byCos[9+k] = one+cos, sin, cos, sin
			bySin[k], bySin[3+k], bySin[6+k], bySin[9+k] = sin, one-cos, -sin, cos
		}
		if b.rows == 6 {
			m[2*i], m[2*i+1] = byCos, bySin
			continue
		}
		for k := range m {
			for j := range m[k] {
				m[k][j] += float64(blends[k][2*i]*byCos[j]) + float64(blends[k][2*i+1]*bySin[j])
			}
		}
	}
	return m
}

// blends are numbers from -1 to 1 that have nothing to do with each other.
var blends = func() (list [unknowns][2 * 14]float64) {
	x := uint64(1)
	for i := range list {
		for k := range list[i] {
			x = 6364136223846793005*x + 1442695040888963407 // Knuth's generator (The Art of Computer Programming, 3.3.4; from memory)
			list[i][k] = float64(int64(x)>>11) / (1 << 52)
		}
	}
	return list
}()

// determinant by Gauss's elimination with the largest pivot of each column; the matrix is used up.
func (m *matrix) determinant() float64 {
	d := 1.0
	for k := range m {
		row := k
		for i := k + 1; i < unknowns; i++ {
			if math.Abs(m[i][k]) > math.Abs(m[row][k]) {
				row = i
			}
		}
		if m[row][k] == 0 {
			return 0
		}
		if row != k {
			m[row], m[k] = m[k], m[row]
			d = -d
		}
		d *= m[k][k]
		pivot := &m[k]
		for i := k + 1; i < unknowns; i++ {
			f := m[i][k] / pivot[k]
			for j := k + 1; j < unknowns; j++ {
				m[i][j] -= float64(f * pivot[j])
			}
		}
	}
	return d
}

// lens widens a part of the circle: as it shows an angle φ, tan(φ/2) is power times as much as it is, both from the middle.
type lens struct {
	middle direction
	power  float64
}

// lensOn returns the lens that shows what is between two directions as half the circle.
func lensOn(from, to direction) lens {
	width := to.plus(from.minus())
	half := width.half()
	if half.sin < 0 { // more than half the circle
		half = direction{-half.cos, -half.sin}
	}
	quarter := half.half()
	return lens{from.plus(half), quarter.cos / quarter.sin}
}

// seen returns the angle that the lens shows as at.
func (l *lens) seen(at direction) direction {
	half := at.half()
	x, y := float64(l.power*half.cos), half.sin
	square := float64(x*x) + float64(y*y)
	return l.middle.plus(direction{float64((x-y)*(x+y)) / square, float64(2*x*y) / square})
}

// determinant returns that of the matrix as a series of θ₃ seen through a lens, but for a factor without roots, and what rounding
// does to its values. Each of the 12 rows is of the first degree, so that it is of the 12th; with six equations it is of
// the 8th only (Raghavan & Roth; rounding shows that it is). A series of degree n divided by (cos θ/2)²ⁿ is a polynomial of
// tan θ/2; so it is a series through every lens, with other powers.
func (e *elimination) determinant(l lens) (f series, rounding float64) {
	degree := 8
	if e.rows > 6 {
		degree = unknowns
	}
	var values [samples]float64
	for i, at := range places {
		b := e.at(l.seen(at))
		m := b.matrix()
		values[i] = m.determinant()
		factor := (1+at.cos)/2 + (1-at.cos)/2/float64(l.power*l.power)
		for range degree {
			values[i] = float64(values[i] * factor)
		}
	}
	return through(values[:], degree)
}
