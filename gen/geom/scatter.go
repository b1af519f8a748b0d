package geom

// Scattered is a point of the unit cube, of each number from 1 on another, that fill it ever more evenly: a Halton sequence in the
// bases 2, 3, 5 and 7 (J. H. Halton, Numerische Mathematik 2, 1960; from memory).
func Scattered(number int) (at [4]float64) {
	for i, base := range [4]int{2, 3, 5, 7} {
		share := 1.0
		for n := number; n > 0; n /= base {
			share /= float64(base)
			at[i] += float64(share * float64(n%base))
		}
	}
	return at
}
