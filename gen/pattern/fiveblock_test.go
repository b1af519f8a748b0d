package pattern

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

func plenty() *Looks { return &Looks{math.MaxInt} }

// TestBestOfPallets: what fits on the pallets of ISO 6780:2003, by the arithmetic of the trade
// (worked out by hand: the layouts are in TestPalletPatterns of package golden).
func TestBestOfPallets(t *testing.T) {
	for _, c := range []struct {
		footprint, base [2]float64
		want            int
	}{
		{[2]float64{1200, 800}, [2]float64{600, 400}, 4},
		{[2]float64{1200, 800}, [2]float64{400, 300}, 8},
		{[2]float64{1200, 800}, [2]float64{300, 200}, 16},
		{[2]float64{1200, 1000}, [2]float64{600, 400}, 5},
		{[2]float64{1200, 1000}, [2]float64{400, 300}, 10},
		{[2]float64{1200, 1000}, [2]float64{300, 200}, 20},
		{[2]float64{1140, 1140}, [2]float64{600, 400}, 4},
	} {
		for _, turned := range []bool{false, true} { // the same pallet, seen from beside
			f := Floor{Footprint: c.footprint, Base: c.base}
			if turned {
				f.Footprint = [2]float64{c.footprint[1], c.footprint[0]}
			}
			if got := len(f.Best(plenty())); got != c.want {
				t.Errorf("%v with %v: %d boxes, wanted %d", f.Footprint, f.Base, got, c.want)
			}
		}
	}
	if got := len(Floor{Footprint: [2]float64{1140, 1140}, Base: [2]float64{600, 400}}.Pinwheel(plenty())); got != 4 {
		t.Errorf("the pinwheel on 1140 × 1140 has %d boxes, wanted 4", got)
	}
	if got := (Floor{Footprint: [2]float64{1200, 1000}, Base: [2]float64{400, 300}}).Columns(); len(got) != 9 {
		t.Errorf("columns on 1200 × 1000 have %d boxes, wanted 9", len(got))
	}
}

// TestBestAgainstEverySmallFloor takes every floor of up to 12 × 12 units and every box of
// whole units: Best has as many boxes as the best five blocks with cuts at every unit,
// and never more than any layout at all. Where another layout holds more, it is listed:
// five blocks are not enough for those.
func TestBestAgainstEverySmallFloor(t *testing.T) {
	most := 12
	if testing.Short() {
		most = 9
	}
	var short []string
	for long := 1; long <= most; long++ {
		for wide := 1; wide <= long; wide++ {
			for l := 1; l <= long; l++ {
				for w := 1; w <= min(l, wide); w++ {
					f := Floor{Footprint: [2]float64{float64(long), float64(wide)}, Base: [2]float64{float64(l), float64(w)}}
					name := fmt.Sprintf("%d × %d with %d × %d", long, wide, l, w)
					layer := f.Best(plenty())
					if five := fiveAtEveryUnit(long, wide, l, w); len(layer) != five.boxes || turnedOf(layer) != five.turned {
						t.Errorf("%s: %d boxes, %d of them turned, wanted %+v", name, len(layer), turnedOf(layer), five)
					}
					if area := long * wide / (l * w); len(layer) > area {
						t.Errorf("%s: %d boxes, but the area holds %d", name, len(layer), area)
					} else if len(layer) < area && holds(long, wide, l, w, len(layer)+1) {
						short = append(short, name)
					}
				}
			}
		}
	}
	want := []string{"11 × 10 with 4 × 3"} // 9, where five blocks hold 8
	if testing.Short() {
		want = nil
	}
	if !slices.Equal(short, want) {
		t.Errorf("more boxes than five blocks give fit on %q, wanted %q", short, want)
	}
}

func turnedOf(layer []LayBox) (n int) {
	for _, b := range layer {
		n += int(b.Turned) / 90
	}
	return n
}

// tally is boxes, and how many of them are turned.
type tally struct{ boxes, turned int }

func (t tally) better(than tally) tally {
	if t.boxes > than.boxes || t.boxes == than.boxes && t.turned < than.turned {
		return t
	}
	return than
}

func sum(all ...tally) (s tally) {
	for _, t := range all {
		s = tally{s.boxes + t.boxes, s.turned + t.turned}
	}
	return s
}

// fiveAtEveryUnit is the most boxes that five blocks hold, either way round, with cuts at
// every unit, and the fewest turned of so many.
func fiveAtEveryUnit(long, wide, l, w int) (most tally) {
	holds := func(x0, y0, x1, y1 int) (best tally) { // boxes of one block, counted one by one
		for turned, b := range [2][2]int{{l, w}, {w, l}} {
			n := 0
			for x := x0; x+b[0] <= x1; x += b[0] {
				for y := y0; y+b[1] <= y1; y += b[1] {
					n++
				}
			}
			best = tally{n, turned * n}.better(best)
		}
		return best
	}
	for x0 := range long + 1 {
		for x1 := x0; x1 <= long; x1++ {
			for y0 := range wide + 1 {
				for y1 := y0; y1 <= wide; y1++ {
					middle := holds(x0, y0, x1, y1)
					one := sum(middle, holds(0, 0, x0, y1), holds(x0, 0, long, y0), holds(x1, y0, long, wide), holds(0, y1, x1, wide))
					other := sum(middle, holds(0, 0, x1, y0), holds(x1, 0, long, y1), holds(x0, y1, long, wide), holds(0, y0, x0, wide))
					most = one.better(other.better(most))
				}
			}
		}
	}
	return most
}

// yard is a search through all ways to put boxes on a floor of units: every cell, row by
// row, is the lowest corner of a box, or stays empty as long as there is area to waste.
// That finds any layout, because boxes of whole units can be pushed to whole units.
type yard struct {
	long, wide, l, w int
	failed           map[[12]uint16]int // rows as they are taken: with as many cells to waste, and no luck
	rows             [12]uint16
}

// holds reports whether so many boxes fit in whatever way.
func holds(long, wide, l, w, boxes int) bool {
	y := &yard{long: wide, wide: long, l: l, w: w, failed: map[[12]uint16]int{}}
	return y.fill(long*wide - boxes*l*w)
}

func (y *yard) fill(waste int) bool {
	row, full := 0, uint16(1)<<y.wide-1
	for row < y.long && y.rows[row] == full {
		row++
	}
	if row == y.long {
		return true
	}
	if least, ok := y.failed[y.rows]; ok && waste <= least {
		return false
	}
	col := 0
	for y.rows[row]>>col&1 == 1 {
		col++
	}
	for _, b := range [2][2]int{{y.l, y.w}, {y.w, y.l}} {
		if y.put(row, col, b) {
			if y.fill(waste) {
				return true
			}
			y.flip(row, col, b)
		}
	}
	if waste > 0 {
		y.flip(row, col, [2]int{1, 1})
		if y.fill(waste - 1) {
			return true
		}
		y.flip(row, col, [2]int{1, 1})
	}
	y.failed[y.rows] = waste
	return false
}

// put takes the cells of a box, if they are all free.
func (y *yard) put(row, col int, b [2]int) bool {
	if col+b[0] > y.wide || row+b[1] > y.long {
		return false
	}
	for r := row; r < row+b[1]; r++ {
		if y.rows[r]&((1<<b[0]-1)<<col) != 0 {
			return false
		}
	}
	y.flip(row, col, b)
	return true
}

func (y *yard) flip(row, col int, b [2]int) {
	for r := row; r < row+b[1]; r++ {
		y.rows[r] ^= (1<<b[0] - 1) << col
	}
}

func BenchmarkBest(b *testing.B) {
	for _, base := range [][2]float64{{400, 300}, {130, 90}, {50, 40}, {120, 11}} {
		b.Run(fmt.Sprintf("%gx%g", base[0], base[1]), func(b *testing.B) {
			f := Floor{Footprint: [2]float64{1200, 1000}, Base: base}
			for b.Loop() {
				if f.Best(plenty()) == nil {
					b.Fatal("nothing fits")
				}
			}
		})
	}
}
