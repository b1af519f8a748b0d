// Package align pairs the elements of two sequences, in the order of both.
package align

import "iter"

// Pairs lays sequences of n and m elements beside each other for the greatest
// worth in all, and gives them in the order of both: the indices of two that
// belong together, or that of one alone and -1. Elements whose worth is 0 are
// never paired. Where several ways are worth the same, what only the first
// sequence has comes before what only the second one has.
//
// It keeps a table of (n+1)·(m+1) cells: cut what is long into pieces.
func Pairs(n, m int, worth func(i, j int) float32) iter.Seq2[int, int] {
	return func(yield func(i, j int) bool) {
		wide := m + 1
		best := worths(n, m, worth)
		for i, j := 0, 0; i < n || j < m; {
			first, second := i, j
			switch at := i*wide + j; {
			case i < n && j < m && together(best, at, wide, worth(i, j)):
			case i < n && (j == m || best[at] == best[at+wide]):
				second = -1
			default:
				first = -1
			}
			if !yield(first, second) {
				return
			}
			if first >= 0 {
				i++
			}
			if second >= 0 {
				j++
			}
		}
	}
}

// worths is the greatest worth of what is left from i and j on, row by row.
func worths(n, m int, worth func(i, j int) float32) []float32 {
	wide := m + 1
	best := make([]float32, (n+1)*wide)
	for i := n - 1; i >= 0; i-- {
		for j := m - 1; j >= 0; j-- {
			at := i*wide + j
			best[at] = max(best[at+wide], best[at+1])
			if w := worth(i, j); w > 0 {
				best[at] = max(best[at], best[at+wide+1]+w)
			}
		}
	}
	return best
}

// together reports whether the best way from a cell on pairs its two elements.
func together(best []float32, at, wide int, worth float32) bool {
	return worth > 0 && best[at] == best[at+wide+1]+worth
}
