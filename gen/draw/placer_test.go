package draw

import (
	"math"
	"testing"
)

// TestCostStopsEarly: what a place covers is added up no further than decides whether it is
// dearer than another one.
func TestCostStopsEarly(t *testing.T) {
	p := placer{in: box(0, 0, 100, 100)}
	for i := range 20 {
		p.write(box(float64(3*i), 10, 5, 4))
		p.axes = append(p.axes, box(float64(2*i), 8, 1, 9))
		p.led(leader{pt{float64(4 * i), 0}, pt{50, 50}})
		p.soft = append(p.soft, box(float64(i), float64(i), 30, 30))
	}
	for i := range 60 {
		r := box(float64(i), 9, 12, 4)
		whole := p.cost(r, math.Inf(1))
		for _, most := range []float64{whole / 7, whole / 2, whole, math.Nextafter(whole, math.Inf(1)), 2 * whole} {
			if got := p.cost(r, most); got > whole || (got >= most) != (whole >= most) || whole < most && got != whole {
				t.Errorf("%v: with %v at most it is %v, in all %v", r, most, got, whole)
			}
		}
	}
}
