package pattern_test

import (
	"math"
	"math/cmplx"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
)

// The n slots of a full ring are r times the n-th roots of unity, turned by the start
// (textbook; math/cmplx works them out). What is radial is turned by the same angle: X of
// the turned axes is the root itself, Y that times i.
func TestRingPlacesAreRootsOfUnity(t *testing.T) {
	centre := geom.Vec{X: 12.5, Y: -7, Z: 30}
	for n := 1; n <= 60; n++ {
		for _, start := range []float64{0, 90, -37.5, 1234.5} {
			for _, step := range []float64{360 / float64(n), -360 / float64(n), 1.5} {
				const r = 81.25
				p := ringOf(centre, 1, true, pattern.Circle{Radius: r, Places: n, Start: start, Turn: step, Share: 1})
				full := ringOf(centre, 1, true, pattern.Circle{Radius: r, Places: n, Start: start, Turn: 360, Share: float64(n)})
				for k := range n {
					s := slot.Slot{Col: int32(k)}
					want := root(start, step*float64(k))
					holdTo(t, p, s, centre, r, want)
					if step == 360/float64(n) {
						holdTo(t, full, s, centre, r, cmplx.Pow(cmplx.Exp(complex(0, 2*math.Pi/float64(n))), complex(float64(k), 0))*root(start, 0))
					}
				}
			}
		}
	}
}

func root(start, turn float64) complex128 {
	return cmplx.Exp(complex(0, start*math.Pi/180)) * cmplx.Exp(complex(0, turn*math.Pi/180))
}

func holdTo(t *testing.T, p pattern.Pattern, s slot.Slot, centre geom.Vec, r float64, want complex128) {
	t.Helper()
	const little = 1e-10
	at, turned := p.At(s)
	if off := at.Sub(centre); cmplx.Abs(complex(off.X, off.Y)-want*complex(r, 0)) > little*r || off.Z != 0 {
		t.Errorf("%v is at %v from the centre, wanted %v", s, off, want*complex(r, 0))
	}
	if cmplx.Abs(root(turned, 0)-want) > little || turned <= -180 || turned > 180 {
		t.Errorf("%v is turned by %g°, wanted the angle of %v", s, turned, want)
	}
	x, y := p.Lie(s).Column(0), p.Lie(s).Column(1)
	if cmplx.Abs(complex(x.X, x.Y)-want) > little || cmplx.Abs(complex(y.X, y.Y)-want*1i) > little || x.Z != 0 || y.Z != 0 {
		t.Errorf("parts in %v lie along %v and %v, wanted %v and %v", s, x, y, want, want*1i)
	}
}

// What is not radial is not turned.
func TestFixedRingIsNotTurned(t *testing.T) {
	p := ringOf(geom.Vec{}, 1, false, pattern.Circle{Radius: 30, Places: 7, Start: 10, Turn: 360, Share: 7})
	for k := range 7 {
		if _, turned := p.At(slot.Slot{Col: int32(k)}); turned != 0 || p.Lie(slot.Slot{Col: int32(k)}) != geom.IdentityRot() {
			t.Errorf("slot %d is turned by %g°", k, turned)
		}
	}
}

// A ring's slots are found in a box however the circle runs round it.
func TestBoxesInRings(t *testing.T) {
	for _, c := range []pattern.Circle{
		{Radius: 50, Places: 36, Start: 355, Turn: 360, Share: 36}, {Radius: 50, Places: 36, Start: -175, Turn: -10, Share: 1},
		{Radius: 50, Places: 20, Start: 725, Turn: 7, Share: 1}, {Radius: 50, Places: 2, Start: 180, Turn: -180, Share: 1},
	} {
		p := ringOf(geom.Vec{X: 3}, 1, false, c)
		n := 0
		for x := -60.0; x < 60; x += 7 {
			for y := -60.0; y < 60; y += 7 {
				for _, half := range []float64{1, 9, 40} {
					lo, hi := geom.Vec{X: x - half, Y: y - half, Z: -1}, geom.Vec{X: x + half, Y: y + half, Z: 1}
					row, lastRow := p.RowsIn(0, lo, hi)
					first, last := p.ColumnsIn(0, 0, lo, hi)
					each(p, func(s slot.Slot, at geom.Vec) {
						if within(at, lo, hi) && (row != 0 || lastRow != 0 || int(s.Col) < first || int(s.Col) > last) {
							t.Fatalf("%+v: %v is not asked for from %v to %v", c, s, lo, hi)
						}
					})
					n += max(0, last-first+1)
				}
			}
		}
		if whole := 18 * 18 * 3 * c.Places; n > whole*2/3 {
			t.Errorf("%+v: boxes ask for %d of %d slots", c, n, whole)
		}
	}
}
