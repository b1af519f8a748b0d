package pattern

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// layings is every way to lay boxes that has a name.
var layings = map[string]func(Floor) []LayBox{
	"columns":  Floor.Columns,
	"best":     func(f Floor) []LayBox { return f.Best(plenty()) },
	"brick":    func(f Floor) []LayBox { return f.Brick(plenty()) },
	"pinwheel": func(f Floor) []LayBox { return f.Pinwheel(plenty()) },
}

// randomFloor is a floor for a few boxes, or some hundred; lengths are whole, or not.
func randomFloor(r *rand.Rand) Floor {
	length := func(of float64) float64 {
		if v := r.Float64() * of; r.IntN(2) == 0 {
			return v + 0.01
		} else {
			return math.Ceil(v)
		}
	}
	f := Floor{Footprint: [2]float64{1 + length(1200), 1 + length(1200)}}
	f.Base = [2]float64{length(f.Footprint[0] / 2), length(f.Footprint[1] / 2)}
	for f.AreaBound() > 150 {
		f.Base[r.IntN(2)] *= 1.7
	}
	if r.IntN(2) == 0 {
		f.Gap = length(20)
	}
	return f
}

// extent is the room that a box takes along an axis.
func (f Floor) extent(b LayBox, axis int) (lo, hi float64) {
	size := f.Base
	if b.Turned == 90 {
		size[0], size[1] = size[1], size[0]
	}
	middle := [2]float64{b.X, b.Y}[axis]
	return middle - size[axis]/2, middle + size[axis]/2
}

// TestLayersAreLaidRight: boxes of any layer are 0 or 90, on the footprint, apart by the
// gap, centred as a whole, and no more than the area allows; turned and mirrored, too.
func TestLayersAreLaidRight(t *testing.T) {
	const hair = 1e-5 // mm: ten units
	r := rand.New(rand.NewPCG(16, 1))
	laid, boxes := map[string]int{}, 0
	for range 500 {
		f := randomFloor(r)
		for name, lay := range layings {
			layer := lay(f)
			if len(layer) == 0 {
				continue
			}
			laid[name]++
			boxes += len(layer)
			if len(layer) > f.AreaBound() {
				t.Errorf("%s of %+v has %d boxes, the area holds %d", name, f, len(layer), f.AreaBound())
			}
			for axis := range 2 {
				least, most := math.Inf(1), math.Inf(-1)
				for _, b := range layer {
					lo, hi := f.extent(b, axis)
					least, most = min(least, lo), max(most, hi)
				}
				if least < -hair || math.Abs(least-(f.Footprint[axis]-most)) > hair {
					t.Errorf("%s of %+v goes from %g to %g along axis %d", name, f, least, most, axis)
				}
			}
			for _, layer := range [][]LayBox{layer, f.HalfTurn(layer), f.Mirror(layer)} {
				if i, k, ok := f.tooClose(layer, hair); ok {
					t.Errorf("%s of %+v: %v and %v are too close", name, f, layer[i], layer[k])
				}
			}
			if again := lay(f); !slices.Equal(again, layer) {
				t.Errorf("%s of %+v is %v, and then %v", name, f, layer, again)
			}
		}
	}
	for name := range layings {
		if laid[name] < 150 {
			t.Errorf("%s was laid %d times: the test proves little", name, laid[name])
		}
	}
	if boxes < 10_000 {
		t.Errorf("%d boxes: the test proves little", boxes)
	}
}

// tooClose finds two boxes nearer than the gap, or one that is turned oddly.
func (f Floor) tooClose(layer []LayBox, hair float64) (int, int, bool) {
	for i, a := range layer {
		if a.Turned != 0 && a.Turned != 90 {
			return i, i, true
		}
		for k, b := range layer[:i] {
			apart := math.Inf(-1)
			for axis := range 2 {
				alo, ahi := f.extent(a, axis)
				blo, bhi := f.extent(b, axis)
				apart = max(apart, blo-ahi, alo-bhi)
			}
			if apart < f.Gap-hair {
				return i, k, true
			}
		}
	}
	return 0, 0, false
}

// TestBestIsTheBest: no other way to lay boxes has more.
func TestBestIsTheBest(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every small floor stands for it")
	}
	if testing.Short() {
		t.Skip("skipped, as -short asks: every floor of a small size stands for it")
	}
	r := rand.New(rand.NewPCG(16, 2))
	more := 0
	for range 1000 {
		f := randomFloor(r)
		best := len(f.Best(plenty()))
		for _, name := range []string{"columns", "pinwheel"} { // both are five blocks, some of them empty
			if n := len(layings[name](f)); n > best {
				t.Errorf("%s of %+v has %d boxes, the best %d", name, f, n, best)
			} else if n < best {
				more++
			}
		}
	}
	if more == 0 {
		t.Error("the best is never better: the test proves little")
	}
}

// TestColumnsAreTheBetterOfTwo, straight or turned.
func TestColumnsAreTheBetterOfTwo(t *testing.T) {
	f := Floor{Footprint: [2]float64{1200, 800}, Base: [2]float64{400, 300}}
	if got := f.Columns(); len(got) != 8 || got[0] != (LayBox{150, 200, 90}) {
		t.Errorf("%v, wanted 8 turned ones", got)
	}
	f = Floor{Footprint: [2]float64{1220, 810}, Base: [2]float64{400, 300}, Gap: 10} // 3 × 2, either way
	if got := f.Columns(); len(got) != 6 || got[0] != (LayBox{200, 250, 0}) {
		t.Errorf("with gaps %v, wanted 6 that are not turned", got)
	}
}

// TestRoundFiguresFit: tenths of a millimetre that floats cannot write add up.
func TestRoundFiguresFit(t *testing.T) {
	f := Floor{Footprint: [2]float64{0.3, 0.7}, Base: [2]float64{0.1, 0.1}}
	if got := len(f.Best(plenty())); got != 21 || f.AreaBound() != 21 {
		t.Errorf("%d boxes, and %d by area, wanted 21", got, f.AreaBound())
	}
	f = Floor{Footprint: [2]float64{1200, 800}, Base: [2]float64{171.428571, 100}} // 1200/7
	if got := len(f.Columns()); got != 7*8 {
		t.Errorf("%d boxes, wanted 56", got)
	}
}

// TestNothingToLay: what cannot be laid gives nothing, and costs nothing.
func TestNothingToLay(t *testing.T) {
	for _, f := range []Floor{
		{},
		{Footprint: [2]float64{100, 100}},
		{Footprint: [2]float64{100, 100}, Base: [2]float64{0, 10}},
		{Footprint: [2]float64{100, 100}, Base: [2]float64{101, 10}},
		{Footprint: [2]float64{100, 100}, Base: [2]float64{-10, -10}},
		{Footprint: [2]float64{1200, 800}, Base: [2]float64{1, 1}},
		{Footprint: [2]float64{1e9, 1e9}, Base: [2]float64{1e-9, 1e-9}},
		{Footprint: [2]float64{1e9, 1}, Base: [2]float64{1e-6, 2}},
	} {
		for name, lay := range layings {
			if got := lay(f); got != nil {
				t.Errorf("%s of %+v has %d boxes", name, f, len(got))
			}
		}
	}
	f, few := Floor{Footprint: [2]float64{1200, 800}, Base: [2]float64{400, 300}}, &Looks{100}
	if got := f.Best(few); got != nil || !few.Over() {
		t.Errorf("%v with a hundred looks, over %t", got, few.Over())
	}
}

// TestLooksHaveABound: whatever the sizes, a layer costs so much and no more.
func TestLooksHaveABound(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: the worst floors take longest")
	}
	if testing.Short() {
		t.Skip("skipped, as -short asks: the worst floors take longest")
	}
	r := rand.New(rand.NewPCG(16, 3))
	dearest := map[string]int{}
	for range 100 {
		f := Floor{Footprint: [2]float64{math.Exp(r.Float64() * 12), math.Exp(r.Float64() * 12)}}
		f.Base = [2]float64{f.Footprint[0] * math.Exp(-r.Float64()*8), f.Footprint[1] * math.Exp(-r.Float64()*8)}
		if r.IntN(4) == 0 {
			f.Base[0], f.Base[1] = f.Base[1], f.Base[0]
		}
		for name, lay := range map[string]func(*Looks) []LayBox{"best": f.Best, "brick": f.Brick, "pinwheel": f.Pinwheel} {
			looks := plenty()
			lay(looks)
			dearest[name] = max(dearest[name], plenty().Left-looks.Left)
		}
	}
	for name, n := range dearest {
		if n > 10_000_000 || n < 100_000 {
			t.Errorf("the dearest %s took %d looks, wanted 100,000 to 10,000,000", name, n)
		}
	}
}

func TestMirrorChangesSomethingWhereItCan(t *testing.T) {
	f := Floor{Footprint: [2]float64{1200, 1000}, Base: [2]float64{600, 400}} // two in front, three behind
	best := f.Best(plenty())
	if same(best, f.Mirror(best)) || same(best, f.HalfTurn(best)) {
		t.Error("it stays the same")
	}
	wheel := Floor{Footprint: [2]float64{1140, 1140}, Base: [2]float64{600, 400}}
	layer := wheel.Pinwheel(plenty())
	if same(layer, wheel.Mirror(layer)) || !same(layer, wheel.HalfTurn(layer)) {
		t.Error("a pinwheel stays the same mirrored, or does not when turned by half")
	}
	if columns := f.Columns(); !same(columns, f.Mirror(columns)) || !same(columns, f.HalfTurn(columns)) {
		t.Error("columns do not stay the same")
	}
}
