package pattern

import "testing"

// eachSmallFloor goes through floors and boxes of whole units.
func eachSmallFloor(most int, do func(f Floor)) {
	for long := 1; long <= most; long++ {
		for wide := 1; wide <= most; wide++ {
			for l := 1; l <= most; l++ {
				for w := 1; w <= most; w++ {
					do(Floor{Footprint: [2]float64{float64(long), float64(wide)}, Base: [2]float64{float64(l), float64(w)}})
				}
			}
		}
	}
}

// TestBrickAgainstEveryWall builds every wall of rows that there is, and looks for joints
// that go on by where they are.
func TestBrickAgainstEveryWall(t *testing.T) {
	walls := 0
	eachSmallFloor(9, func(f Floor) {
		most, turned := 0, 0
		for along := range 2 {
			size := [2]int{int(f.Base[0]), int(f.Base[1])}
			if along == 1 {
				size[0], size[1] = size[1], size[0]
			}
			n, k := mostRows(int(f.Footprint[along]), int(f.Footprint[1-along]), size, nil)
			if n > most || n == most && k < turned {
				most, turned = n, k
			}
		}
		layer := f.Brick(plenty())
		if len(layer) != most || turnedOf(layer) != turned {
			t.Errorf("%+v: %d boxes, %d of them turned, wanted %d and %d", f, len(layer), turnedOf(layer), most, turned)
		}
		if most > 0 {
			walls++
		}
	})
	if walls < 1000 {
		t.Errorf("%d walls: the test proves little", walls)
	}
}

// mostRows is the most boxes in a depth behind a row whose joints are at those places, in
// half units, and the fewest turned of so many.
func mostRows(length, depth int, size [2]int, joints map[int]bool) (most, turned int) {
	for turn, b := range [2][2]int{size, {size[1], size[0]}} {
		if b[1] > depth {
			continue
		}
		for fewer := range 2 {
			n := length/b[0] - fewer
			if n < 1 {
				continue
			}
			start, own, meets := length-n*b[0], map[int]bool{}, false
			for i := 1; i < n; i++ {
				at := start + 2*i*b[0]
				own[at], meets = true, meets || joints[at]
			}
			if meets {
				continue
			}
			more, k := mostRows(length, depth-b[1], size, own)
			more, k = more+n, k+turn*n
			if size[0] == size[1] {
				k = 0
			}
			if more > most || more == most && k < turned {
				most, turned = more, k
			}
		}
	}
	return most, turned
}

// TestBrickHasNoCrosses: nowhere do four boxes meet at one point, unless rows of single
// boxes do; columns of the same boxes have such points.
func TestBrickHasNoCrosses(t *testing.T) {
	bricks, columns := 0, 0
	eachSmallFloor(8, func(f Floor) {
		bricks += f.crosses(f.Brick(plenty()))
		columns += f.crosses(f.Columns())
	})
	if bricks > 0 || columns < 1000 {
		t.Errorf("%d crosses in bricks, wanted none, and %d in columns", bricks, columns)
	}
}

func (f Floor) crosses(layer []LayBox) (n int) {
	corners := map[[2]float64]int{}
	for _, b := range layer {
		x0, x1 := f.extent(b, 0)
		y0, y1 := f.extent(b, 1)
		for _, c := range [][2]float64{{x0, y0}, {x0, y1}, {x1, y0}, {x1, y1}} {
			if corners[c]++; corners[c] == 4 {
				n++
			}
		}
	}
	return n
}

// TestPinwheelAgainstEveryWheel turns every block of turned boxes and every one of others
// about the middle of both, and keeps those whose four blocks do not overlap.
func TestPinwheelAgainstEveryWheel(t *testing.T) {
	wheels := 0
	eachSmallFloor(9, func(f Floor) {
		long, wide, l, w := int(f.Footprint[0]), int(f.Footprint[1]), int(f.Base[0]), int(f.Base[1])
		most := 0
		for nx := 1; nx*w < long; nx++ {
			for ny := 1; ny*l < wide; ny++ {
				for mx := 1; nx*w+mx*l <= long; mx++ {
					for my := 1; ny*l+my*w <= wide; my++ {
						a, b := [2]int{nx * w, ny * l}, [2]int{mx * l, my * w}
						all := [4][4]int{{0, 0, a[0], a[1]}, {a[0], 0, a[0] + b[0], b[1]}, {b[0], b[1], a[0] + b[0], a[1] + b[1]}, {0, a[1], b[0], a[1] + b[1]}}
						if n := 2 * (nx*ny + mx*my); n > most && disjoint(all[:]) {
							most = n
						}
					}
				}
			}
		}
		if got := len(f.Pinwheel(plenty())); got != most {
			t.Errorf("%+v: %d boxes, wanted %d", f, got, most)
		}
		if most > 0 {
			wheels++
		}
	})
	if wheels < 500 {
		t.Errorf("%d wheels: the test proves little", wheels)
	}
}

// disjoint reports whether no two of some rectangles overlap.
func disjoint(all [][4]int) bool {
	for i, a := range all {
		for _, b := range all[:i] {
			if a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3] {
				return false
			}
		}
	}
	return true
}
