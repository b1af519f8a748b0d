package fit

import (
	"math"

	"gridferry/gen/geom"

	"gonum.org/v1/gonum/mat"
)

// principal returns the singular values of the matrix with these rows (three or
// more), largest first, and the unit vector that belongs to each.
func principal(rows []geom.Vec) (values [3]float64, along [3]geom.Vec) {
	m := mat.NewDense(len(rows), 3, nil)
	for i, v := range rows {
		m.SetRow(i, []float64{v.X, v.Y, v.Z})
	}
	var v mat.Dense
	svd := factorize(m, mat.SVDThinV)
	svd.Values(values[:])
	svd.VTo(&v)
	for i := range along {
		along[i] = forward(geom.Vec{X: v.At(0, i), Y: v.At(1, i), Z: v.At(2, i)})
	}
	return values, along
}

// singular returns the singular values of rows whose products with themselves add up
// to sum, largest first.
func singular(sum geom.Rot) (values [3]float64) {
	factorize(dense(sum), mat.SVDNone).Values(values[:])
	for i, v := range values {
		values[i] = math.Sqrt(v)
	}
	return values
}

// solve returns x of m·x = right, where no singular value of m is 0.
func solve(m geom.Rot, right geom.Vec) geom.Vec {
	var x mat.VecDense
	// A condition that is high comes back as an error beside the answer; how high it
	// may be was settled before.
	_ = x.SolveVec(dense(m), mat.NewVecDense(3, []float64{right.X, right.Y, right.Z}))
	return geom.Vec{X: x.AtVec(0), Y: x.AtVec(1), Z: x.AtVec(2)}
}

func dense(m geom.Rot) *mat.Dense {
	return mat.NewDense(3, 3, []float64{m[0][0], m[0][1], m[0][2], m[1][0], m[1][1], m[1][2], m[2][0], m[2][1], m[2][2]})
}

// forward gives an axis the one of its two senses in which its largest coordinate
// is positive; of equals, within rounding, the first counts.
func forward(v geom.Vec) geom.Vec {
	largest := v.X
	for _, c := range []float64{v.Y, v.Z} {
		if math.Abs(c) > math.Abs(largest)+sameFit {
			largest = c
		}
	}
	if largest < 0 {
		return geom.Vec{}.Sub(v)
	}
	return v
}

// nearestRotation returns the rotation R with the largest trace of Rᵀ·h. Where h
// is a sum of measured × nominal products that is the rotation with the least
// squared error (W. Kabsch, Acta Cryst. A32, 1976, 922-923); where h is a matrix
// close to a rotation it is the nearest one.
//
// trace is that largest trace. A reflection, which no frame can follow, may reach
// a larger one, by gain: then the direction that counts least is turned round
// (S. Umeyama, IEEE PAMI 13(4), 1991, 376-380). Otherwise gain is 0.
func nearestRotation(h geom.Rot) (r geom.Rot, trace, gain float64) {
	svd := factorize(dense(h), mat.SVDFull)
	var u, v mat.Dense
	var s [3]float64
	svd.UTo(&u)
	svd.VTo(&v)
	svd.Values(s[:])
	left, right := rotOf(&u), rotOf(&v)
	if determinant(left)*determinant(right) < 0 {
		gain, s[2] = 2*s[2], -s[2]
		for i := range left {
			left[i][2] = -left[i][2]
		}
	}
	return left.Mul(right.T()), s[0] + s[1] + s[2], gain
}

// factorize cannot fail on the numbers that usable lets through.
func factorize(m *mat.Dense, kind mat.SVDKind) *mat.SVD {
	var svd mat.SVD
	if !svd.Factorize(m, kind) {
		panic("fit: no singular values of a finite matrix")
	}
	return &svd
}

func rotOf(m *mat.Dense) (r geom.Rot) {
	for i := range r {
		for j := range r[i] {
			r[i][j] = m.At(i, j)
		}
	}
	return r
}

func determinant(r geom.Rot) float64 {
	return r.Column(0).Dot(r.Column(1).Cross(r.Column(2)))
}
