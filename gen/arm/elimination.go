package arm

import (
	"math"

	"gridferry/gen/geom"
)

// monomials are the products of 1, cos, sin of one angle with those of another.
const monomials = 9

// elimination is what the turns 3, 4 and 5 of a ring have to fulfil, whatever 1, 2 and 6 are: rows of equations, each
//
//	Σ (1, cos θ₃, sin θ₃) ⊗ (1, cos θ₄, sin θ₄) ⊗ (1, cos θ₅, sin θ₅) = 0.
//
// They say that E₃E₄E₅ and E₂⁻¹E₁⁻¹·end take axis 6 to the same line; of the 14 numbers of its mark, which are
// linear in the products of cosines and sines of 3, 4, 5 on one side and in 8 of 1 and 2 on the other, those
// combinations are left from which the 8 have gone: six, or more for special arms.
type elimination struct {
	rows int
	eq   [14][3 * monomials]float64
}

// terms are the 14 numbers of marks: eight columns of products of 1 and 2, then those of 3, 4 and 5.
type terms [14][8 + 3*monomials]float64

func (t *terms) put(column int, m *mark) {
	for i, v := range m.numbers() {
		t[i][column] = v
	}
}

// eliminate writes the equations of a ring.
func (c *ring) eliminate() (e elimination) {
	var t terms
	still := c.front(&t)
	c.back(&t)
	for i, v := range still.numbers() {
		t[i][8] -= v
	}
	rank := t.triangle()
	e.rows = 14 - rank
	for i := range e.rows {
		copy(e.eq[i][:], t[rank+i][8:])
	}
	return e
}

// front writes the columns of E₂⁻¹E₁⁻¹·end and returns the one that nothing turns.
func (c *ring) front(t *terms) (still mark) {
	one, two, three := c.axes[0], c.axes[1], c.axes[2]
	line := marked(c.axes[5].moved(c.end))
	line = line.shifted(geom.Vec{}.Sub(one.point))
	for i, by1 := range line.split(geom.Vec{}.Sub(one.along)) {
		by1 = by1.shifted(one.point.Sub(two.point))
		for k, by2 := range by1.split(geom.Vec{}.Sub(two.along)) {
			by2 = by2.shifted(two.point.Sub(three.point))
			if i+k == 0 {
				still = by2
			} else {
				t.put(i*3+k-1, &by2)
			}
		}
	}
	return still
}

// back writes the columns of E₃E₄E₅.
func (c *ring) back(t *terms) {
	three, four, five := c.axes[2], c.axes[3], c.axes[4]
	line := marked(c.axes[5])
	line = line.shifted(geom.Vec{}.Sub(five.point))
	for i, by5 := range line.split(five.along) {
		by5 = by5.shifted(five.point.Sub(four.point))
		for k, by4 := range by5.split(four.along) {
			by4 = by4.shifted(four.point.Sub(three.point))
			for l, by3 := range by4.split(three.along) {
				t.put(8+l*monomials+3*k+i, &by3)
			}
		}
	}
}

// noPivot is the part of the longest column below which what is left of one counts as nothing: the columns are
// of the order of 1.
const noPivot = 1e-11

// triangle makes the first eight columns an upper triangle by Householder's reflections, the longest column first, and
// returns their rank: in the rows behind it nothing is left of them.
func (t *terms) triangle() (rank int) {
	longest := 0.0
	for k := range 8 {
		column, square := t.longest(k)
		if k == 0 {
			longest = square
		}
		if square <= noPivot*noPivot*longest {
			return k
		}
		for i := range t {
			t[i][k], t[i][column] = t[i][column], t[i][k]
		}
		t.reflect(k, math.Sqrt(square))
	}
	return 8
}

// longest finds the longest column from k on, seen from row k on, and the square of its length.
func (t *terms) longest(k int) (column int, square float64) {
	square = -1
	for j := k; j < 8; j++ {
		sum := 0.0
		for i := k; i < len(t); i++ {
			sum += float64(t[i][j] * t[i][j])
		}
		if sum > square {
			column, square = j, sum
		}
	}
	return column, square
}

// reflect takes column k, of the given length from row k on, to the row's direction.
func (t *terms) reflect(k int, length float64) {
	var v [14]float64
	for i := k; i < len(t); i++ {
		v[i] = t[i][k]
	}
	v[k] += math.Copysign(length, v[k])
	half := float64(length * math.Abs(v[k])) // half the square of v's length
	var share [8 + 3*monomials]float64
	for i := k; i < len(t); i++ {
		for j := k; j < len(share); j++ {
			share[j] += float64(v[i] * t[i][j])
		}
	}
	for i := k; i < len(t); i++ {
		f := v[i] / half
		for j := k; j < len(share); j++ {
			t[i][j] -= float64(f * share[j])
		}
	}
}

// biforms are equations in θ₄ and θ₅ alone: Σ (1, cos θ₄, sin θ₄) ⊗ (1, cos θ₅, sin θ₅) = 0.
type biforms struct {
	rows int
	eq   [14][monomials]float64
}

// at returns what is left of the equations at a value of θ₃.
func (e *elimination) at(third direction) (b biforms) {
	b.rows = e.rows
	for i := range e.rows {
		q := &e.eq[i]
		for j := range monomials {
			b.eq[i][j] = q[j] + float64(third.cos*q[monomials+j]) + float64(third.sin*q[2*monomials+j])
		}
	}
	return b
}
