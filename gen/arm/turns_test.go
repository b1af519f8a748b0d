package arm

import "testing"

func TestQuarter(t *testing.T) {
	for reading, want := range map[float64]int{
		0: 0, -1e-13: 0, 1e-13: 0, 45: 0, 89.99: 0, 90: 1, 90 - 1e-12: 1, 180: 2, 360: 4, -0.01: -1, -90: -1, -90 - 1e-12: -1, -90.01: -2, -180: -2, -235.05: -3,
	} {
		if got := Quarter(reading); got != want {
			t.Errorf("%g degrees are in quarter %d, wanted %d", reading, got, want)
		}
	}
}
