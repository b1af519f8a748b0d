package arm

import "math"

// system is linear equations, a row each: their coefficients, and behind these one right side or more.
type system [MaxJoints + 3][2 * MaxJoints]float64

// reduce solves for as many unknowns as there are rows, by Gauss and Jordan's elimination: unknown i is then a right side of row i over
// m[i][i]. It returns the least pivot, which is 0 or nearly so where the rows do not settle all.
func (m *system) reduce(rows, columns int) (least float64) {
	least = math.Inf(1)
	for k := range rows {
		pivot := k
		for i := k; i < rows; i++ {
			if math.Abs(m[i][k]) > math.Abs(m[pivot][k]) {
				pivot = i
			}
		}
		m[k], m[pivot] = m[pivot], m[k]
		least = min(least, math.Abs(m[k][k]))
		for i := range rows {
			if i == k {
				continue
			}
			times := m[i][k] / m[k][k]
			for c := k; c < columns; c++ {
				m[i][c] -= float64(times * m[k][c])
			}
		}
	}
	return least
}
