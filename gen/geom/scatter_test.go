package geom

import (
	"math"
	"testing"
)

// TestScattered compares the first points with the van der Corput sequences in bases 2 and 3, whose digits are those of the number
// in reverse (from memory), and counts how even a thousand of them are.
func TestScattered(t *testing.T) {
	want := [][2]float64{{1. / 2, 1. / 3}, {1. / 4, 2. / 3}, {3. / 4, 1. / 9}, {1. / 8, 4. / 9}, {5. / 8, 7. / 9}}
	for i, w := range want {
		if got := Scattered(i + 1); math.Abs(got[0]-w[0]) > 1e-15 || math.Abs(got[1]-w[1]) > 1e-15 {
			t.Errorf("point %d: %v, wanted %v", i+1, got, w)
		}
	}
	var in [16]int
	for n := range 1600 {
		which := 0
		for _, v := range Scattered(n + 1) {
			which *= 2
			if v >= 0.5 {
				which++
			}
		}
		in[which]++
	}
	for which, n := range in {
		if n < 90 || n > 110 {
			t.Errorf("part %d of 16 has %d of 1600 points", which, n)
		}
	}
}
