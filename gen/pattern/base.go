package pattern

import "math"

// base is the rectangle on which a box stands, in thousandths of a millimetre.
type base struct{ lo, hi [2]int64 }

const (
	thousandths = 1000
	touching    = 2 // thousandths by which boxes that touch may overlap by rounding
)

func (f Floor) bases(layer []LayBox) []base {
	all := make([]base, len(layer))
	for i, b := range layer {
		size := f.Base
		if b.Turned != 0 {
			size[0], size[1] = size[1], size[0]
		}
		for axis, middle := range [2]float64{b.X, b.Y} {
			all[i].lo[axis] = int64(math.Round(float64((middle - size[axis]/2) * thousandths)))
			all[i].hi[axis] = int64(math.Round(float64((middle + size[axis]/2) * thousandths)))
		}
	}
	return all
}

// ends reports whether a base ends before another begins, along an axis.
func (b *base) ends(c *base, axis int) bool { return b.hi[axis] <= c.lo[axis]+touching }

func (b *base) area() float64 { return float64(b.hi[0]-b.lo[0]) * float64(b.hi[1]-b.lo[1]) }

// with is what two bases have in common; it ends before it begins where that is nothing.
func (b *base) with(c *base) base {
	for axis := range 2 {
		b = &base{b.lo, b.hi}
		b.lo[axis], b.hi[axis] = max(b.lo[axis], c.lo[axis]), min(b.hi[axis], c.hi[axis])
	}
	return *b
}
